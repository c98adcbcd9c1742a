/**
 * Shows whether one byte of a run was changed after the fact: seals, the keys they are made with, and their check.
 *
 * <p>A seal is a text file in the run's folder, {@code seal-1.txt}, written when the run has ended. It lists every file
 * of the folder with its SHA-256, names the newest seal of the run of the same unit before, and is signed with Ed25519
 * (RFC 8032, the JDK's own). What comes later, such as a sign-off, makes {@code seal-2.txt} and so on: each lists all
 * files again, the seals before it too. So the seals of a unit form one chain.
 *
 * <p>A seal proves that nothing was changed by somebody without the key. It cannot prove that the owner of the key did
 * not seal something else; keep the key where only the program's user can read it.
 *
 * <p>Must not: read a clock, judge, or believe a file name. Start reading at {@link railproof.seal.Sealer}, then
 * {@link railproof.seal.Verifier}.
 */
@NullMarked
package railproof.seal;

import org.jspecify.annotations.NullMarked;
