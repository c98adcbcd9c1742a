package railproof.instrument;

import java.util.Locale;

/**
 * One field of a payload.
 *
 * @param name its name in the message table
 * @param type how it is written
 * @param length bytes it takes; 0 for {@link FieldType#BYTES}
 * @param group what it is repeated for ({@code channel}, {@code sample}); empty if it occurs once
 * @param offset first byte, counted from the start of the payload or of its group
 */
record PayloadField(String name, FieldType type, int length, String group, int offset) {
    /** Reads {@code [group: ]type name}. */
    static PayloadField parse(String text, int offset) {
        int colon = text.indexOf(": ");
        String group = colon < 0 ? "" : text.substring(0, colon);
        String rest = colon < 0 ? text : text.substring(colon + 2);
        int space = rest.indexOf(' ');
        String type = rest.substring(0, space);
        String name = rest.substring(space + 1);
        if (type.startsWith("char[")) {
            int length = Integer.parseInt(type.substring(5, type.length() - 1));
            return new PayloadField(name, FieldType.CHAR, length, group, offset);
        }
        FieldType fieldType = FieldType.valueOf(type.toUpperCase(Locale.ROOT));
        return new PayloadField(name, fieldType, fieldType.size(), group, offset);
    }

    /** Whether it is sent as zero and ignored. */
    boolean reserved() {
        return name.startsWith("reserved");
    }

    /** The type as the message table writes it. */
    String typeText() {
        return type == FieldType.CHAR ? "char[" + length + "]" : type.name().toLowerCase(Locale.ROOT);
    }

    /** How often it occurs, as the message table writes it. */
    String repeatText() {
        if (type == FieldType.BYTES) {
            return "rest";
        }
        return group.isEmpty() ? "once" : group;
    }
}
