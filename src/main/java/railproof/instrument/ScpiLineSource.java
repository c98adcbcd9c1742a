package railproof.instrument;

import java.util.OptionalDouble;
import railproof.wire.Link;
import railproof.wire.LinkException;

/**
 * An a.c. source that speaks SCPI, in the words of its dialect.
 *
 * <p>Thread: control thread only, except {@link #emergencyOff()}.
 */
public final class ScpiLineSource implements LineSource {
    private final LineDialect dialect;
    private final ReadBackRule rule;
    private final ScpiInstrument device;
    private final ScpiInstrument.Switch output;

    /** A driver on an open link, read-backs compared as {@link ReadBackRule#STANDARD} says. Sends nothing yet. */
    public ScpiLineSource(String name, Link link, LineDialect dialect) {
        this(name, link, dialect, ReadBackRule.STANDARD);
    }

    /** A driver on an open link. Sends nothing yet. */
    public ScpiLineSource(String name, Link link, LineDialect dialect, ReadBackRule rule) {
        this.dialect = dialect;
        this.rule = rule;
        this.device = new ScpiInstrument(name, link, dialect.scpi());
        this.output = new ScpiInstrument.Switch(
                dialect.text(LineCommand.OUTPUT_ON),
                dialect.text(LineCommand.OUTPUT_OFF),
                dialect.text(LineCommand.OUTPUT_QUERY));
    }

    @Override
    public String name() {
        return device.name();
    }

    @Override
    public Identity connect() throws LinkException, InstrumentException, InterruptedException {
        Identity identity = device.firstContact(output, dialect.text(LineCommand.REMOTE));
        device.turnOff(output);
        return identity;
    }

    @Override
    public void set(double rmsV, double frequencyHz) throws LinkException, InstrumentException, InterruptedException {
        if (!Double.isFinite(rmsV) || rmsV < 0 || !Double.isFinite(frequencyHz) || frequencyHz <= 0) {
            throw new IllegalArgumentException("line of " + rmsV + " V at " + frequencyHz + " Hz");
        }
        device.setLevel(
                new ScpiInstrument.Level(dialect.text(LineCommand.FREQUENCY), frequencyHz, rule.stepHz(), "HZ"));
        device.setLevel(new ScpiInstrument.Level(dialect.text(LineCommand.VOLTAGE), rmsV, rule.stepV(), "V"));
    }

    @Override
    public void output(boolean on) throws LinkException, InstrumentException, InterruptedException {
        if (on) {
            device.turnOn(output);
        } else {
            device.turnOff(output);
        }
    }

    /** Asks the device whether its output is on. */
    public boolean outputOn() throws LinkException, InterruptedException {
        return device.isOn(output.query());
    }

    /**
     * The source's own measurement of its output, V rms.
     *
     * @throws InstrumentException if the dialect has no such query or the device no number
     */
    public double measureRmsV() throws LinkException, InstrumentException, InterruptedException {
        String query = dialect.text(LineCommand.MEASURE_VOLTAGE);
        if (query.isEmpty()) {
            throw device.refused("measuring the line", "a query for it in dialect " + dialect.name(), "none");
        }
        return device.number(query, "V");
    }

    @Override
    public OptionalDouble measureCurrentA() throws LinkException, InstrumentException, InterruptedException {
        String query = dialect.text(LineCommand.MEASURE_CURRENT);
        return query.isEmpty() ? OptionalDouble.empty() : OptionalDouble.of(device.number(query, "A"));
    }

    /**
     * Looks for errors and a power cycle.
     *
     * @throws InstrumentException naming what happened
     */
    public void checkHealth() throws LinkException, InstrumentException, InterruptedException {
        device.reportErrors();
        if (device.client().powerCycled()) {
            throw device.refused("*ESR?", "no power cycle since first contact", "the power-on bit");
        }
    }

    @Override
    public boolean emergencyOff() {
        return device.emergency(output.off());
    }

    @Override
    public void close() {
        device.close(output, dialect.text(LineCommand.LOCAL));
    }
}
