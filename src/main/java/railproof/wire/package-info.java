/**
 * Bytes on a cable: links, framing, checksums, SCPI text lines, tracing. Knows no instrument.
 *
 * <p>Must not: interpret payloads, start runs, or read the wall clock. Only {@code wire.serial} may use the serial
 * library.
 * Start reading at {@link railproof.wire.Link}.
 */
@NullMarked
package railproof.wire;

import org.jspecify.annotations.NullMarked;
