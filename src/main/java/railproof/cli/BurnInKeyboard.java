package railproof.cli;

import java.io.IOException;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import railproof.app.BurnInControl;
import railproof.rig.Operator;

/**
 * The keyboard of a burn-in: {@code p UNIT} pauses, {@code c UNIT} continues, {@code s UNIT} stops; with one unit its
 * name can be left out. Anything else answers the oldest open question. With none open, Enter alone shows how all units
 * stand, and what is not understood is said to be so. Reads on a daemon thread of its own ({@code keyboard}); an end of
 * the input is no command.
 *
 * <p>Thread: questions from the control threads, lines from the keyboard's.
 */
final class BurnInKeyboard {
    static final String COMMANDS = "p UNIT pauses, c UNIT continues, s UNIT stops, Enter alone shows all units";

    private final Screen screen;
    private final BurnInControl control;
    private final Map<String, Asked> open = new LinkedHashMap<>();

    BurnInKeyboard(Screen screen, BurnInControl control) {
        this.screen = screen;
        this.control = control;
    }

    void listen() {
        Thread thread = new Thread(this::read, "keyboard");
        thread.setDaemon(true);
        thread.start();
    }

    private void read() {
        try {
            String line = screen.in().readLine();
            while (line != null) {
                take(line.strip());
                line = screen.in().readLine();
            }
        } catch (IOException e) {
            screen.say("The keyboard cannot be read any more: " + e.getMessage());
        }
    }

    /** Takes one line. */
    void take(String line) {
        String[] words = line.split("\\s+", 2);
        String command = words[0].toLowerCase(Locale.ROOT);
        if (!List.of("p", "c", "s").contains(command)) {
            if (!answered(line)) {
                withoutQuestion(line);
            }
            return;
        }
        List<String> units =
                control.units().stream().filter(unit -> !control.over(unit)).toList();
        String unit = words.length > 1 ? words[1] : units.size() == 1 ? units.get(0) : "";
        boolean done =
                switch (command) {
                    case "p" -> control.pause(unit);
                    case "c" -> control.goOn(unit);
                    default -> control.stop(unit, "stopped by the operator");
                };
        if (!done) {
            String which = unit.isEmpty() ? "Which unit?" : "No unit \"" + unit + "\" is being burnt in.";
            screen.say(which + " There are: " + String.join(", ", units) + ". " + COMMANDS);
        }
    }

    private void withoutQuestion(String line) {
        if (!line.isEmpty()) {
            screen.say("Not understood: \"" + line + "\". " + COMMANDS);
            return;
        }
        for (String unit : control.units()) {
            screen.say(
                    control.over(unit)
                            ? unit + "  over"
                            : control.progress(unit)
                                    .map(now -> BurnInLines.lines(unit, now))
                                    .orElse(unit + "  not begun yet"));
        }
    }

    /** Gives the line to the oldest open question; says whether there is one. */
    private synchronized boolean answered(String line) {
        for (Asked asked : open.values()) {
            if (!asked.text.isEmpty() && asked.answer.isEmpty()) {
                asked.answer = Optional.of(line);
                return true;
            }
        }
        return false;
    }

    /** Whoever answers the questions of a unit. */
    synchronized Operator operator(String unit) {
        Asked asked = new Asked();
        open.put(unit, asked);
        return new Operator() {
            @Override
            public void ask(String text) {
                synchronized (BurnInKeyboard.this) {
                    if (!asked.text.equals(text)) {
                        screen.say(">>> " + unit + ": " + text);
                    }
                    asked.text = text;
                    asked.answer = Optional.empty();
                }
            }

            @Override
            public Optional<String> answer() {
                synchronized (BurnInKeyboard.this) {
                    Optional<String> given = asked.answer;
                    asked.answer = Optional.empty();
                    return given;
                }
            }

            @Override
            public void withdraw() {
                synchronized (BurnInKeyboard.this) {
                    asked.text = "";
                    asked.answer = Optional.empty();
                }
            }
        };
    }

    /** One unit's open question. */
    private static final class Asked {
        private String text = "";
        private Optional<String> answer = Optional.empty();
    }
}
