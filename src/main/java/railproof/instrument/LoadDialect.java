package railproof.instrument;

import java.time.Duration;
import java.util.EnumMap;
import java.util.Map;
import railproof.wire.ScpiSettings;

/**
 * How one model of electronic load wants to be spoken to.
 *
 * @param name the dialect's name in the rig file
 * @param scpi how its text lines travel
 * @param commands wording of every command; empty text for one the device lacks
 * @param modeChangeDropsInput whether selecting another mode switches the input off
 * @param settle time after a new level before a reading can be trusted
 * @param watchdogTimeout the silence after which the device drops its input, if {@link LoadCommand#WATCHDOG} has a text
 */
public record LoadDialect(
        String name,
        ScpiSettings scpi,
        Map<LoadCommand, String> commands,
        boolean modeChangeDropsInput,
        Duration settle,
        Duration watchdogTimeout) {
    public LoadDialect {
        Map<LoadCommand, String> all = new EnumMap<>(LoadCommand.class);
        for (LoadCommand command : LoadCommand.values()) {
            String text = commands.getOrDefault(command, command.standardText());
            if (text.isEmpty() && !command.optional()) {
                throw new IllegalArgumentException("dialect " + name + " lacks " + command.key());
            }
            all.put(command, text);
        }
        commands = Map.copyOf(all);
    }

    /** The strict standard. */
    public static LoadDialect standard() {
        return new LoadDialect(
                "standard", ScpiSettings.STANDARD, Map.of(), false, Duration.ofMillis(20), Duration.ofSeconds(2));
    }

    /** Wording of a command; empty if the device lacks it. */
    public String text(LoadCommand command) {
        return commands.getOrDefault(command, "");
    }
}
