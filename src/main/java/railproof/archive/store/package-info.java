/**
 * The archive's databases; the only home of their libraries.
 *
 * <p>Must not: print a password. Start reading at {@link railproof.archive.store.Archive}.
 */
@NullMarked
package railproof.archive.store;

import org.jspecify.annotations.NullMarked;
