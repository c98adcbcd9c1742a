package railproof.instrument;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Where the fields of one payload lie: first the fields that occur once, then at most one group that is repeated to the
 * end, or one field of bytes to the end.
 *
 * <p>Thread: immutable.
 */
final class PayloadLayout {
    private final Map<String, PayloadField> fields = new LinkedHashMap<>();
    private final int fixedLength;
    private final int groupLength;

    private PayloadLayout(List<String> texts) {
        int once = 0;
        int grouped = 0;
        for (String text : texts) {
            PayloadField field = PayloadField.parse(text, text.contains(": ") ? grouped : once);
            if (fields.put(field.name(), field) != null) {
                throw new IllegalArgumentException("two fields named " + field.name());
            }
            if (field.group().isEmpty()) {
                once += field.length();
            } else {
                grouped += field.length();
            }
        }
        fixedLength = once;
        groupLength = grouped;
    }

    /** Reads a list of {@code type name}, separated by commas; empty for no payload. */
    static PayloadLayout parse(String text) {
        List<String> parts = new ArrayList<>();
        if (!text.isEmpty()) {
            parts.addAll(List.of(text.split(", ", -1)));
        }
        return new PayloadLayout(parts);
    }

    /** All fields in order. */
    List<PayloadField> fields() {
        return List.copyOf(fields.values());
    }

    /** Bytes of the fields that occur once. */
    int fixedLength() {
        return fixedLength;
    }

    /** Bytes of one repetition of the group; 0 without group. */
    int groupLength() {
        return groupLength;
    }

    PayloadField field(String name) {
        PayloadField field = fields.get(name);
        if (field == null) {
            throw new IllegalArgumentException("no field " + name + " among " + fields.keySet());
        }
        return field;
    }

    /** A payload to be filled in, all zero. */
    PayloadWriter writer() {
        return new PayloadWriter(this);
    }

    /**
     * A payload to be read.
     *
     * @throws IllegalArgumentException if it is shorter than the fields that occur once; longer is allowed
     */
    PayloadReader reader(byte[] payload) {
        return new PayloadReader(this, payload);
    }
}
