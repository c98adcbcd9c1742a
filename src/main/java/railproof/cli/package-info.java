/**
 * The command line: results to standard output, progress and questions to standard error, documented exit statuses.
 *
 * <p>Must not: measure, judge, or know the window.
 * Start reading at {@link railproof.cli.CommandLineFace}.
 */
@NullMarked
package railproof.cli;

import org.jspecify.annotations.NullMarked;
