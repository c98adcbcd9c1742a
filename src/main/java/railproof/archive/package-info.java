/**
 * The archive of runs, and what a shop steers by: history, first-pass yield, shift by the repair, capability, common
 * causes. Run folders stay the source; the archive holds what can be read from them again.
 *
 * <p>Values and statistics here are pure. {@code archive.store} alone sees the databases: SQLite in the data directory
 * with no set-up, or PostgreSQL, with the same tables.
 *
 * <p>Must not: judge, or hold anything that is not in a run folder.
 * Start reading at {@link railproof.archive.ArchivedRun}, then {@link railproof.archive.TypeStatistics}.
 */
@NullMarked
package railproof.archive;

import org.jspecify.annotations.NullMarked;
