package railproof.instrument;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/**
 * Reads a payload by field names.
 *
 * <p>Thread: immutable by convention; the bytes are not copied.
 */
final class PayloadReader {
    private final PayloadLayout layout;
    private final byte[] bytes;

    PayloadReader(PayloadLayout layout, byte[] bytes) {
        if (bytes.length < layout.fixedLength()) {
            throw new IllegalArgumentException(
                    "payload of " + bytes.length + " bytes, at least " + layout.fixedLength() + " are needed");
        }
        this.layout = layout;
        this.bytes = bytes;
    }

    /** A number. */
    long get(String name) {
        PayloadField field = layout.field(name);
        return field.type().read(bytes, field.offset());
    }

    /** A number that fits an int. */
    int getInt(String name) {
        return Math.toIntExact(get(name));
    }

    /** How often the group is there in full. */
    int groups() {
        return layout.groupLength() == 0 ? 0 : (bytes.length - layout.fixedLength()) / layout.groupLength();
    }

    /** A number in repetition {@code index} of the group. */
    long get(String name, int index) {
        if (index >= groups()) {
            throw new IllegalArgumentException("no repetition " + index + ", there are " + groups());
        }
        PayloadField field = layout.field(name);
        return field.type().read(bytes, layout.fixedLength() + index * layout.groupLength() + field.offset());
    }

    /** A text, without the zero bytes that fill it up. */
    String text(String name) {
        PayloadField field = layout.field(name);
        int end = field.offset();
        while (end < field.offset() + field.length() && bytes[end] != 0) {
            end++;
        }
        return new String(bytes, field.offset(), end - field.offset(), StandardCharsets.UTF_8);
    }

    /** The bytes after the fields that occur once. */
    byte[] rest() {
        return Arrays.copyOfRange(bytes, layout.fixedLength(), bytes.length);
    }
}
