/**
 * The composition root: builds a real or a simulated rig out of its file, and runs it.
 *
 * <p>Must not: print, parse command lines, or know how results are shown.
 * Start reading at {@link railproof.app.RunService}.
 */
@NullMarked
package railproof.app;

import org.jspecify.annotations.NullMarked;
