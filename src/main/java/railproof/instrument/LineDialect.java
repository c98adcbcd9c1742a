package railproof.instrument;

import java.util.EnumMap;
import java.util.Map;
import railproof.wire.ScpiSettings;

/**
 * How one model of line source wants to be spoken to.
 *
 * @param name the dialect's name in the rig file
 * @param scpi how its text lines travel
 * @param commands wording of every command; empty text for one the device lacks
 */
public record LineDialect(String name, ScpiSettings scpi, Map<LineCommand, String> commands) {
    public LineDialect {
        Map<LineCommand, String> all = new EnumMap<>(LineCommand.class);
        for (LineCommand command : LineCommand.values()) {
            String text = commands.getOrDefault(command, command.standardText());
            if (text.isEmpty() && !command.optional()) {
                throw new IllegalArgumentException("dialect " + name + " lacks " + command.key());
            }
            all.put(command, text);
        }
        commands = Map.copyOf(all);
    }

    /** The strict standard. */
    public static LineDialect standard() {
        return new LineDialect("standard", ScpiSettings.STANDARD, Map.of());
    }

    /** Wording of a command; empty if the device lacks it. */
    public String text(LineCommand command) {
        return commands.getOrDefault(command, "");
    }
}
