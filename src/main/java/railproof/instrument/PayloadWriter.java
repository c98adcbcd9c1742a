package railproof.instrument;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/**
 * Fills in a payload by field names; what is not set is zero.
 *
 * <p>Thread: confined to one thread.
 */
final class PayloadWriter {
    private final PayloadLayout layout;
    private byte[] bytes;

    PayloadWriter(PayloadLayout layout) {
        this.layout = layout;
        this.bytes = new byte[layout.fixedLength()];
    }

    /** Sets a number. */
    PayloadWriter set(String name, long value) {
        PayloadField field = layout.field(name);
        write(field, field.offset(), value);
        return this;
    }

    /** Sets a number in repetition {@code index} of the group. */
    PayloadWriter set(String name, int index, long value) {
        PayloadField field = layout.field(name);
        int needed = layout.fixedLength() + (index + 1) * layout.groupLength();
        if (bytes.length < needed) {
            bytes = Arrays.copyOf(bytes, needed);
        }
        write(field, layout.fixedLength() + index * layout.groupLength() + field.offset(), value);
        return this;
    }

    private void write(PayloadField field, int at, long value) {
        try {
            field.type().write(bytes, at, value);
        } catch (IllegalArgumentException e) {
            throw new IllegalArgumentException(field.name() + " " + e.getMessage(), e);
        }
    }

    /** Sets a text; too long a one is cut. */
    PayloadWriter text(String name, String value) {
        PayloadField field = layout.field(name);
        byte[] utf8 = value.getBytes(StandardCharsets.UTF_8);
        System.arraycopy(utf8, 0, bytes, field.offset(), Math.min(utf8.length, field.length()));
        return this;
    }

    /** Sets the bytes to the end. */
    PayloadWriter rest(byte[] rest) {
        bytes = Arrays.copyOf(bytes, layout.fixedLength() + rest.length);
        System.arraycopy(rest, 0, bytes, layout.fixedLength(), rest.length);
        return this;
    }

    byte[] bytes() {
        return bytes;
    }
}
