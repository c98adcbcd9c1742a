/**
 * The program's entry point; everything else lives in the packages below.
 *
 * <p>Start reading at {@link railproof.Main}.
 */
@NullMarked
package railproof;

import org.jspecify.annotations.NullMarked;
