package railproof.instrument;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import railproof.wire.Link;
import railproof.wire.LinkException;

/**
 * An electronic load that speaks SCPI, in the words of its dialect. Every setting is followed by a look into the error
 * queue and, where the device can be asked, read back. After the line had to find its feet, {@link #checkHealth} also
 * reads back everything this driver has set, because a power cycle may hide behind lost replies.
 *
 * <p>Thread: control thread only, except {@link #emergencyOff()}.
 */
public final class ScpiElectronicLoad implements ElectronicLoad {
    private final LoadDialect dialect;
    private final ReadBackRule rule;
    private final ScpiInstrument device;
    private final ScpiInstrument.Switch input;

    private boolean wantedOn;
    private @Nullable LoadMode mode;
    private @Nullable LoadProtection protection;
    private int resyncsChecked;

    /** A driver on an open link, read-backs compared as {@link ReadBackRule#STANDARD} says. Sends nothing yet. */
    public ScpiElectronicLoad(String name, Link link, LoadDialect dialect) {
        this(name, link, dialect, ReadBackRule.STANDARD);
    }

    /** A driver on an open link. Sends nothing yet. */
    public ScpiElectronicLoad(String name, Link link, LoadDialect dialect, ReadBackRule rule) {
        this.dialect = dialect;
        this.rule = rule;
        this.device = new ScpiInstrument(name, link, dialect.scpi());
        this.input = new ScpiInstrument.Switch(
                dialect.text(LoadCommand.INPUT_ON),
                dialect.text(LoadCommand.INPUT_OFF),
                dialect.text(LoadCommand.INPUT_QUERY));
    }

    @Override
    public String name() {
        return device.name();
    }

    @Override
    public Identity connect() throws LinkException, InstrumentException, InterruptedException {
        wantedOn = false;
        mode = null;
        protection = null;
        Identity identity = device.firstContact(input, dialect.text(LoadCommand.REMOTE));
        setIfKnown(LoadCommand.PROTECT_CLEAR);
        if (hasWatchdog()) {
            Duration silence = dialect.watchdogTimeout();
            device.setBlind(filled(LoadCommand.WATCHDOG, silence.toNanos() / 1e9));
        }
        device.turnOff(input);
        questionable(); // reading the event register clears what happened before we came
        resyncsChecked = device.client().resyncs();
        return identity;
    }

    @Override
    public void protect(LoadProtection wanted) throws LinkException, InstrumentException, InterruptedException {
        if (inputOn()) {
            throw device.refused("protection levels", "the input off while they are set", "on");
        }
        for (ProtectionLevel level : levels(wanted)) {
            String command = dialect.text(level.command());
            if (command.isEmpty()) {
                continue;
            }
            String query = dialect.text(level.query());
            String line = filled(level.command(), level.level().numberDimensionless());
            if (query.isEmpty()) {
                device.setBlind(line);
            } else {
                device.set(line);
                device.confirm(line, query, level.level());
            }
        }
        protection = wanted;
    }

    @Override
    public void set(LoadMode wanted, double level) throws LinkException, InstrumentException, InterruptedException {
        if (!Double.isFinite(level) || level < 0) {
            throw new IllegalArgumentException("a load's level must be finite and not negative, got " + level);
        }
        if (mode != wanted) {
            mode = null; // until it is known to have arrived
            String query = dialect.text(LoadCommand.MODE_QUERY);
            String command = dialect.text(modeCommand(wanted));
            if (query.isEmpty()) {
                device.setBlind(command);
            } else {
                device.set(command);
                confirmMode(command, query);
            }
            mode = wanted;
            wantedOn &= !dialect.modeChangeDropsInput();
        }
        device.setLevel(
                switch (wanted) {
                    case CURRENT -> level(LoadCommand.LEVEL_CURRENT, level, rule.stepA(), "A");
                    case VOLTAGE -> level(LoadCommand.LEVEL_VOLTAGE, level, rule.stepV(), "V");
                    case RESISTANCE -> level(LoadCommand.LEVEL_RESISTANCE, level, rule.stepOhm(), "OHM");
                });
    }

    @Override
    public void input(boolean on) throws LinkException, InstrumentException, InterruptedException {
        wantedOn = false;
        if (on) {
            device.turnOn(input);
            wantedOn = true;
        } else {
            device.turnOff(input);
        }
    }

    @Override
    public boolean inputOn() throws LinkException, InterruptedException {
        return device.isOn(input.query());
    }

    @Override
    public LoadReading measure() throws LinkException, InstrumentException, InterruptedException {
        double voltageV = device.number(dialect.text(LoadCommand.MEASURE_VOLTAGE), "V");
        double currentA = device.number(dialect.text(LoadCommand.MEASURE_CURRENT), "A");
        return new LoadReading(voltageV, currentA);
    }

    @Override
    public void checkHealth() throws LinkException, InstrumentException, InterruptedException {
        device.reportErrors();
        if (device.client().powerCycled()) {
            throw device.refused("*ESR?", "no power cycle since first contact", "the power-on bit: the load was off");
        }
        int bits = questionable() & rule.faultBits();
        if (bits != 0) {
            throw device.refused("questionable status", "no fault", describe(bits));
        }
        boolean on = inputOn();
        if (on != wantedOn) {
            throw device.refused("input state", wantedOn ? "on, as set" : "off, as set", on ? "on" : "off");
        }
        int resyncs = device.client().resyncs();
        if (resyncs != resyncsChecked) {
            confirmSettings();
            resyncsChecked = resyncs;
        }
    }

    @Override
    public boolean hasWatchdog() {
        return !dialect.text(LoadCommand.WATCHDOG).isEmpty();
    }

    @Override
    public boolean emergencyOff() {
        return device.emergency(input.off());
    }

    @Override
    public void close() {
        wantedOn = false;
        device.close(input, dialect.text(LoadCommand.LOCAL));
    }

    private void confirmSettings() throws LinkException, InstrumentException, InterruptedException {
        String modeQuery = dialect.text(LoadCommand.MODE_QUERY);
        if (mode != null && !modeQuery.isEmpty()) {
            confirmMode(dialect.text(modeCommand(mode)), modeQuery);
        }
        if (protection != null) {
            for (ProtectionLevel level : levels(protection)) {
                String query = dialect.text(level.query());
                if (!query.isEmpty() && !dialect.text(level.command()).isEmpty()) {
                    device.confirm(query, query, level.level());
                }
            }
        }
    }

    /** The last word of the command is the mode's name; the reply may be its long or short form. */
    private void confirmMode(String command, String query)
            throws LinkException, InstrumentException, InterruptedException {
        String word = command.substring(command.lastIndexOf(' ') + 1).toUpperCase(Locale.ROOT);
        String reply = device.client().ask(query, text -> Optional.of(text.toUpperCase(Locale.ROOT)));
        if (!reply.startsWith(word) && !(reply.length() >= 3 && word.startsWith(reply))) {
            throw device.refused(command, word, reply);
        }
    }

    private int questionable() throws LinkException, InterruptedException {
        String query = dialect.text(LoadCommand.QUESTIONABLE_QUERY);
        return query.isEmpty() ? 0 : device.client().statusBits(query);
    }

    private void setIfKnown(LoadCommand command) throws LinkException, InstrumentException, InterruptedException {
        String text = dialect.text(command);
        if (!text.isEmpty()) {
            device.setBlind(text);
        }
    }

    private String filled(LoadCommand command, double valueDimensionless) {
        return String.format(Locale.ROOT, dialect.text(command), ScpiInstrument.number(valueDimensionless));
    }

    private ScpiInstrument.Level level(LoadCommand command, double value, double step, String unit) {
        return new ScpiInstrument.Level(dialect.text(command), value, step, unit);
    }

    private record ProtectionLevel(LoadCommand command, LoadCommand query, ScpiInstrument.Level level) {}

    private List<ProtectionLevel> levels(LoadProtection wanted) {
        List<ProtectionLevel> levels = new ArrayList<>();
        levels.add(new ProtectionLevel(
                LoadCommand.PROTECT_CURRENT,
                LoadCommand.PROTECT_CURRENT_QUERY,
                level(LoadCommand.PROTECT_CURRENT, wanted.overCurrentA(), rule.stepA(), "A")));
        levels.add(new ProtectionLevel(
                LoadCommand.PROTECT_VOLTAGE,
                LoadCommand.PROTECT_VOLTAGE_QUERY,
                level(LoadCommand.PROTECT_VOLTAGE, wanted.overVoltageV(), rule.stepV(), "V")));
        levels.add(new ProtectionLevel(
                LoadCommand.PROTECT_POWER,
                LoadCommand.PROTECT_POWER_QUERY,
                level(LoadCommand.PROTECT_POWER, wanted.overPowerW(), rule.stepW(), "W")));
        return levels;
    }

    private static LoadCommand modeCommand(LoadMode mode) {
        return switch (mode) {
            case CURRENT -> LoadCommand.MODE_CURRENT;
            case VOLTAGE -> LoadCommand.MODE_VOLTAGE;
            case RESISTANCE -> LoadCommand.MODE_RESISTANCE;
        };
    }

    private static String describe(int bits) {
        List<String> names = new ArrayList<>();
        for (int bit = 0; bit < 16; bit++) {
            if ((bits & 1 << bit) != 0) {
                names.add(
                        switch (bit) {
                            case 0 -> "voltage (bit 0)";
                            case 1 -> "current (bit 1)";
                            case 3 -> "power (bit 3)";
                            case 4 -> "temperature (bit 4)";
                            case 8 -> "calibration (bit 8)";
                            default -> "bit " + bit;
                        });
            }
        }
        return String.join(", ", names);
    }
}
