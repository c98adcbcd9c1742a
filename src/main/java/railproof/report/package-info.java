/**
 * What people read: the certificate page, verdict and comparison tables, and the one formatter that turns SI numbers
 * into text with prefixes. Pure: from an archived run alone.
 *
 * <p>Must not: measure, judge, read a clock, or trust any text in a record: serials and notes are escaped.
 * Start reading at {@link railproof.report.CertificatePage}.
 */
@NullMarked
package railproof.report;

import org.jspecify.annotations.NullMarked;
