/**
 * Run folders: one folder per run, written while the run goes, readable after a kill at any instant.
 *
 * <p>Layout of a folder, all text UTF-8:
 * <ul>
 *   <li>{@code run.json}: format version, header, digests of the three snapshots;
 *   <li>{@code profile.toml}, {@code rig.toml}, {@code calibration.toml}: the exact bytes used;
 *   <li>{@code points.csv}: RFC 4180, one line per finished point, unit in every heading;
 *   <li>{@code waveforms/0000.csv}: one file per capture;
 *   <li>{@code events.jsonl}: one JSON object per line, everything else that happened;
 *   <li>{@code end.json}: how it ended, written last. Without it the run reads as incomplete;
 *   <li>{@code verdict.json}, {@code verdict-PROFILE.json}: what was judged of it, may be written again.
 * </ul>
 *
 * <p>Numbers are written so that they read back bit for bit. Text cells that a spreadsheet could take for a formula
 * carry a leading apostrophe, taken off when read.
 *
 * <p>Must not: measure, judge, or believe what a file says about paths.
 * Start reading at {@link railproof.record.RunFolderWriter}, then {@link railproof.record.RunFolder}.
 */
@NullMarked
package railproof.record;

import org.jspecify.annotations.NullMarked;
