package railproof.instrument;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import railproof.wire.Link;
import railproof.wire.LinkException;
import railproof.wire.LinkTimeoutException;
import railproof.wire.ScpiClient;
import railproof.wire.ScpiError;
import railproof.wire.ScpiErrorKind;
import railproof.wire.ScpiSettings;

/**
 * What the text-speaking drivers have in common: first contact, settings that are confirmed, a switch that is turned
 * off for certain. Thread: confined to the control thread, except {@link #emergency}.
 */
final class ScpiInstrument {
    private static final int OFF_TRIES = 3;
    private static final MathContext DIGITS = new MathContext(7, RoundingMode.HALF_EVEN);

    private final String name;
    private final Link link;
    private final ScpiSettings settings;
    private final ScpiClient client;
    private final List<ScpiError> unreported = new ArrayList<>();
    private boolean levelsCanBeAsked = true;
    private boolean levelWasRead;

    ScpiInstrument(String name, Link link, ScpiSettings settings) {
        this.name = name;
        this.link = link;
        this.settings = settings;
        this.client = new ScpiClient(link, settings);
    }

    /** The switch of a device: its input or its output. */
    record Switch(String on, String off, String query) {}

    /** A number that can be set and, by the standard's rule, asked with the same header and a question mark. */
    record Level(String command, double numberDimensionless, double stepDimensionless, String unit) {}

    String name() {
        return name;
    }

    ScpiClient client() {
        return client;
    }

    /** Off before anything else, confirmed; who is there; remote control; no old errors; off again. */
    Identity firstContact(Switch power, String remote) throws LinkException, InstrumentException, InterruptedException {
        link.discardInput();
        client.sendUnconfirmed(power.off());
        if (isOn(power.query()) && !remote.isEmpty()) {
            // some devices obey only in remote control
            client.sendUnconfirmed(remote);
        }
        turnOff(power);
        String reply = client.identify();
        if (!client.expected(reply)) {
            throw refused("*IDN?", "an identity matching " + settings.identityPattern(), reply);
        }
        unreported.clear();
        report("*CLS", client.clear());
        if (!remote.isEmpty()) {
            set(remote);
        }
        return identity(reply);
    }

    static Identity identity(String reply) {
        String[] fields = reply.split(",", 4);
        if (fields.length < 4) {
            return new Identity(reply.strip(), "0", "", marked(reply));
        }
        String serial = fields[2].strip();
        return new Identity(
                (fields[0].strip() + " " + fields[1].strip()).strip(),
                serial.isEmpty() ? "0" : serial,
                fields[3].strip(),
                marked(fields[1]));
    }

    private static boolean marked(String model) {
        return model.toUpperCase(Locale.ROOT).contains("SIMULATED");
    }

    /**
     * Sends a setting and reports what the error queue holds.
     *
     * @return whether the device's answer came; if not, the caller must read back
     */
    boolean set(String command) throws LinkException, InstrumentException, InterruptedException {
        List<ScpiError> errors = client.command(command);
        report(command, errors);
        return errors.stream().noneMatch(error -> error.kind() == ScpiErrorKind.LINK_TROUBLE);
    }

    /** Sends a setting that cannot be read back: without the device's answer it counts as refused. */
    void setBlind(String command) throws LinkException, InstrumentException, InterruptedException {
        if (!set(command)) {
            throw refused(command, "an answer from the error queue", "none; whether it was obeyed is not known");
        }
    }

    /** Sets a level and reads it back, unless the device has shown that it cannot be asked. */
    void setLevel(Level level) throws LinkException, InstrumentException, InterruptedException {
        String command = String.format(Locale.ROOT, level.command(), number(level.numberDimensionless()));
        int blank = command.indexOf(' ');
        if (blank < 0 || !levelsCanBeAsked) {
            setBlind(command);
            return;
        }
        boolean answered = set(command);
        try {
            confirm(command, command.substring(0, blank) + "?", level);
            levelWasRead = true;
        } catch (LinkTimeoutException e) {
            if (levelWasRead || !answered) {
                throw e;
            }
            levelsCanBeAsked = false; // never answered yet, and the setting itself was: the device lacks the query
        }
    }

    /** Reads a level back and compares. */
    void confirm(String command, String query, Level level)
            throws LinkException, InstrumentException, InterruptedException {
        double readBack = number(query, level.unit());
        if (!ReadBackRule.agrees(level.numberDimensionless(), readBack, level.stepDimensionless())) {
            throw refused(command, "to read back the same", number(readBack) + " " + level.unit());
        }
    }

    double number(String query, String unit) throws LinkException, InstrumentException, InterruptedException {
        OptionalDouble value = client.number(query, unit);
        return value.orElseThrow(() -> refused(query, "a number in " + unit, "\"no number\" from the device"));
    }

    boolean isOn(String query) throws LinkException, InterruptedException {
        return client.ask(query, ScpiInstrument::onOff);
    }

    private static Optional<Boolean> onOff(String reply) {
        return switch (reply.toUpperCase(Locale.ROOT)) {
            case "1", "+1", "ON" -> Optional.of(true);
            case "0", "+0", "OFF" -> Optional.of(false);
            default -> Optional.empty();
        };
    }

    /** Sends OFF until the device says it is off. What else is in its error queue waits for the next report. */
    void turnOff(Switch power) throws LinkException, InstrumentException, InterruptedException {
        for (int attempt = 0; attempt < OFF_TRIES; attempt++) {
            if (!client.inStep()) {
                client.sendUnconfirmed(power.off()); // finding our feet takes time; off does not wait for it
            }
            for (ScpiError error : client.command(power.off())) {
                if (error.kind() != ScpiErrorKind.LINK_TROUBLE) {
                    unreported.add(error);
                }
            }
            if (!isOn(power.query())) {
                return;
            }
        }
        throw refused(power.off(), "off", "still on after " + OFF_TRIES + " tries");
    }

    /** Switches on and reads back; if anything is not as it should be, sends OFF before reporting it. */
    void turnOn(Switch power) throws LinkException, InstrumentException, InterruptedException {
        boolean confirmed = false;
        try {
            set(power.on());
            if (!isOn(power.query())) {
                throw refused(power.on(), "on", "off");
            }
            confirmed = true;
        } finally {
            if (!confirmed) {
                emergency(power.off());
            }
        }
    }

    /** Reports what has gathered in the error queue, and what turned up while switching off. */
    void reportErrors() throws LinkException, InstrumentException, InterruptedException {
        List<ScpiError> errors = new ArrayList<>(unreported);
        errors.addAll(client.errors());
        unreported.clear();
        report("error queue", errors);
    }

    private void report(String command, List<ScpiError> errors) throws InstrumentException {
        String found = errors.stream()
                .filter(error -> error.kind() != ScpiErrorKind.LINK_TROUBLE && error.kind() != ScpiErrorKind.NOTICE)
                .map(ScpiError::describe)
                .collect(Collectors.joining("; "));
        if (!found.isEmpty()) {
            throw refused(command, "no error", found);
        }
    }

    InstrumentException refused(String command, String expected, String got) {
        return new InstrumentException(name, command, expected, got);
    }

    /** Sends a line past everything. Any thread; never throws. */
    boolean emergency(String command) {
        return link.emergencyWrite(ScpiClient.urgentBytes(settings, command));
    }

    /** Off, local, closed; never throws. */
    void close(Switch power, String local) {
        boolean interrupted = Thread.interrupted(); // off must still be possible
        try {
            turnOff(power);
            if (!local.isEmpty()) {
                client.sendUnconfirmed(local);
            }
        } catch (LinkException | InstrumentException e) {
            emergency(power.off());
        } catch (InterruptedException e) {
            emergency(power.off());
            interrupted = true;
        } finally {
            link.close();
            if (interrupted) {
                Thread.currentThread().interrupt();
            }
        }
    }

    /** Seven significant digits, no exponent, decimal point: what every device reads. */
    static String number(double valueDimensionless) {
        BigDecimal rounded = new BigDecimal(valueDimensionless, DIGITS).stripTrailingZeros();
        return rounded.toPlainString();
    }
}
