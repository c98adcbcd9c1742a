package railproof.rig.file;

import java.time.Duration;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.regex.Pattern;
import java.util.regex.PatternSyntaxException;
import railproof.instrument.LoadCommand;
import railproof.instrument.LoadDialect;
import railproof.toml.TomlSection;
import railproof.wire.ScpiSettings;

/** Reads {@code [dialects.NAME]} tables. What a dialect leaves out is as in the strict standard. */
final class DialectReader {
    private static final int MAX_DIALECTS = 20;
    private static final Map<String, String> TERMINATORS =
            new TreeMap<>(Map.of("lf", "\n", "cr", "\r", "crlf", "\r\n"));

    private DialectReader() {}

    /** All dialects by name, the built-in standard first. */
    static Map<String, LoadDialect> dialects(TomlSection root) {
        Map<String, LoadDialect> dialects = new LinkedHashMap<>();
        LoadDialect standard = LoadDialect.standard();
        dialects.put(standard.name(), standard);
        root.namedTables("dialects", false, MAX_DIALECTS).forEach((name, section) -> {
            LoadDialect dialect = dialect(name, section);
            if (dialects.putIfAbsent(name, dialect) != null) {
                section.problem("the dialect \"" + name + "\" is built in; give this one another name");
            }
        });
        return dialects;
    }

    private static LoadDialect dialect(String name, TomlSection section) {
        LoadDialect standard = LoadDialect.standard();
        Map<LoadCommand, String> commands =
                section.table("commands", false).map(DialectReader::commands).orElse(Map.of());
        return new LoadDialect(
                name,
                scpi(section),
                commands,
                section.flag("mode_change_drops_input", standard.modeChangeDropsInput()),
                section.duration("settle_ms", Duration.ZERO, Duration.ofSeconds(10), standard.settle()),
                section.duration(
                        "watchdog_timeout_s",
                        Duration.ofMillis(200),
                        Duration.ofMinutes(1),
                        standard.watchdogTimeout()));
    }

    private static ScpiSettings scpi(TomlSection section) {
        ScpiSettings standard = ScpiSettings.STANDARD;
        return new ScpiSettings(
                section.choice("terminator_out", TERMINATORS, standard.terminatorOut()),
                section.duration("command_gap_ms", Duration.ZERO, Duration.ofSeconds(5), standard.commandGap()),
                section.duration(
                        "reply_timeout_ms", Duration.ofMillis(10), Duration.ofSeconds(30), standard.replyTimeout()),
                section.integer("max_line_length", 16, 4096, standard.maxLineLength()),
                section.flag("echo", standard.echo()),
                section.optionalEmptyText("error_query").orElse(standard.errorQuery()),
                ignoredErrors(section),
                section.flag("operation_complete", standard.operationComplete()),
                identityPattern(section));
    }

    private static List<Integer> ignoredErrors(TomlSection section) {
        return section.integers("ignored_errors", -32768, 32767, 50);
    }

    private static String identityPattern(TomlSection section) {
        String pattern = section.optionalEmptyText("identity_pattern").orElse("");
        try {
            Pattern.compile(pattern);
        } catch (PatternSyntaxException e) {
            section.problem("identity_pattern", "is not a regular expression: " + e.getDescription());
            return "";
        }
        return pattern;
    }

    private static Map<LoadCommand, String> commands(TomlSection section) {
        Map<LoadCommand, String> commands = new EnumMap<>(LoadCommand.class);
        for (LoadCommand command : LoadCommand.values()) {
            Optional<String> text = section.optionalEmptyText(command.key());
            if (text.isPresent()) {
                String wrong = wrong(command, text.get());
                if (wrong.isEmpty()) {
                    commands.put(command, text.get());
                } else {
                    section.problem(command.key(), wrong);
                }
            }
        }
        return commands;
    }

    private static String wrong(LoadCommand command, String text) {
        if (text.isEmpty()) {
            return command.optional() ? "" : "must not be empty: no load can be used without this command";
        }
        String withoutNumber = text.replaceFirst("%s", "");
        boolean takesNumber = !withoutNumber.equals(text);
        if (withoutNumber.contains("%")) {
            return "'%' may stand only in one %s, where the number goes; found \"" + text + "\"";
        }
        if (takesNumber != command.takesNumber()) {
            return command.takesNumber()
                    ? "must hold %s where the number goes; found \"" + text + "\""
                    : "takes no number, so it must not hold %s; found \"" + text + "\"";
        }
        return text.isBlank() ? "must not be blank" : "";
    }
}
