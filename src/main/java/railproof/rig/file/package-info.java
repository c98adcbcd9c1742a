/**
 * Rig files: what instruments a bench has, how they are reached and how well they measure. One immutable tree, read
 * once; and whether a bench can take a given type of supply.
 *
 * <p>Must not: open links, or know any driver.
 * Start reading at {@link railproof.rig.file.RigConfig}.
 */
@NullMarked
package railproof.rig.file;

import org.jspecify.annotations.NullMarked;
