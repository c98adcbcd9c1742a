package railproof.app;

import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.function.Supplier;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Reading;
import railproof.base.Unit;
import railproof.instrument.LoadMode;
import railproof.rig.Accuracy;
import railproof.rig.Envelope;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.Waveform;

/**
 * A bench whose truth is known to the last digit: a rail with output resistance, line sensitivity, sawtooth ripple, a
 * hard limit and a course for every change ({@link SyntheticChange}), read through a channel and a load whose errors are drawn from the uncertainties they state. Procedures
 * and judge see what they see on any bench; no protocol lies between, so thousands of rigs take minutes.
 */
final class SyntheticBench extends QuietBench {
    private static final double NOISE_V = 2e-4;
    static final Accuracy CHANNEL = new Accuracy(2e-4, 5e-4, 1e-4, NOISE_V);
    private static final double DIGIT_A = 5e-4;
    static final Accuracy LOAD = new Accuracy(5e-4, 5e-4, DIGIT_A / Math.sqrt(12), 0);
    private static final double STEP_V = 10 / 32768.0;
    private static final double RATE_HZ = 25_000;
    private static final double LINE_HZ = 60;
    private static final double NOMINAL_LINE_V = 115;
    private static final double LOW_LINE_V = 103.5;
    private static final Accuracy LINE = new Accuracy(1e-3, 0.1, 0.05, 0.05);
    /** Loads on a rail of this name act on the other one. */
    static final String NEIGHBOUR = "+12 V";

    private static final double SINK_OFFSET_U_C = 0.5;

    final double openV;
    final double outputOhm;
    final double lineVPerV;
    final double limitA;
    final double ripplePpV;
    final double neighbourOhm;
    private final double dropLineV;
    private final double dropVPerV;
    private final double warmUpV;
    private final double rippleGrowthRatio;
    private final double sinkRiseC;
    /** What the output truly did at each change, by the section and note of its point. */
    final Map<Section, List<SyntheticChange.Truth>> changes = new EnumMap<>(Section.class);

    final List<Point> points = new ArrayList<>();
    final List<Waveform> waveforms = new ArrayList<>();
    private final Random random;
    private final double gainErrorRatio;
    private final double offsetErrorV;
    private final double loadGainErrorRatio;
    private final double loadOffsetErrorA;
    private final double lineGainErrorRatio;
    private final double sinkErrorC;
    private double timeS;
    private double lineV;
    private double lineSetV;
    private double neighbourA;
    private boolean neighbourOn;
    private LoadMode mode = LoadMode.CURRENT;
    private double levelDimensionless;
    private boolean on;
    private int captures;

    /** A rig and a unit drawn at random; only some units change while they warm up. */
    SyntheticBench(Random random, boolean warms) {
        this.random = random;
        openV = 5 + 0.05 * random.nextGaussian();
        outputOhm = 0.002 + 0.02 * random.nextDouble();
        lineVPerV = 1e-4 + 1e-3 * random.nextDouble();
        limitA = 2.25 + 0.6 * random.nextDouble();
        ripplePpV = 0.004 + 0.016 * random.nextDouble();
        gainErrorRatio = CHANNEL.gainRatio() * random.nextGaussian();
        offsetErrorV = CHANNEL.offsetDimensionless() * random.nextGaussian();
        loadGainErrorRatio = LOAD.gainRatio() * random.nextGaussian();
        loadOffsetErrorA = LOAD.offsetDimensionless() * random.nextGaussian();
        neighbourOhm = 0.03 * (random.nextDouble() - 0.5);
        dropLineV = 75 + 20 * random.nextDouble();
        dropVPerV = 0.05 + 0.15 * random.nextDouble();
        warmUpV = warms ? 0.02 * random.nextGaussian() : 0;
        rippleGrowthRatio = warms ? 0.3 + 0.5 * random.nextDouble() : 0;
        sinkRiseC = 20 + 30 * random.nextDouble();
        lineGainErrorRatio = LINE.gainRatio() * random.nextGaussian();
        sinkErrorC = SINK_OFFSET_U_C * random.nextGaussian();
    }

    /** True mean output of the cold unit at a current it can give, V. */
    double trueV(double currentA, double lineRmsV) {
        double lackV = currentA > 0 ? Math.max(0, dropLineV - lineRmsV) : 0;
        return openV - outputOhm * currentA + lineVPerV * (lineRmsV - NOMINAL_LINE_V) - dropVPerV * lackV;
    }

    /** The line at which the output under this load has fallen by a part of what it is at nominal line, V. */
    double trueDropoutV(double currentA, double partRatio) {
        double fallV = partRatio * trueV(currentA, NOMINAL_LINE_V);
        // straight on either side of the line at which the regulator runs out
        return (dropVPerV * dropLineV + lineVPerV * NOMINAL_LINE_V - fallV) / (dropVPerV + lineVPerV);
    }

    /** True mean output now, at the current and line that are asked for, V. */
    private double nowV(double currentA) {
        return trueV(currentA, lineV) + warmUpV * warmRatio(timeS) - neighbourOhm * (neighbourOn ? neighbourA : 0);
    }

    /** How warm the unit is: it warms up for ever, so that its last reading is its worst. */
    private static double warmRatio(double atS) {
        return atS / 400;
    }

    /** True temperature of the heat sink at a time, °C. */
    double trueSinkC(double atS) {
        return 25 + sinkRiseC * (1 - Math.exp(-atS / 60));
    }

    /** True mean output under a current at nominal line at a time, V. */
    double trueV(double currentA, double lineRmsV, double atS) {
        return trueV(currentA, lineRmsV) + warmUpV * warmRatio(atS);
    }

    /** True ripple at full load and nominal or low line at a time, V peak to peak. */
    double trueRippleV(double lineRmsV, double atS) {
        return ripplePpV * (1 + rippleGrowthRatio * warmRatio(atS)) * (1 - 2.5 * (lineRmsV / LOW_LINE_V - 1));
    }

    private double outputV() {
        if (lineV < 60) {
            return 0;
        }
        if (!on) {
            return nowV(0);
        }
        if (mode == LoadMode.CURRENT) {
            return levelDimensionless <= limitA ? nowV(levelDimensionless) : 0.3;
        }
        double unlimitedV = nowV(0) * levelDimensionless / (levelDimensionless + outputOhm);
        return Math.min(unlimitedV, limitA * levelDimensionless);
    }

    private double currentA() {
        if (!on || lineV < 60) {
            return 0;
        }
        return mode == LoadMode.CURRENT ? Math.min(levelDimensionless, limitA) : outputV() / levelDimensionless;
    }

    /** Ripple grows with the load and with less headroom: the worst point is full load at low line. */
    private double rippleV() {
        return trueRippleV(lineV, timeS) * currentA() / 2;
    }

    /** What no line takes out: another value at every level that is read. */
    private double bend() {
        return CHANNEL.nonLinearityDimensionless() * random.nextGaussian();
    }

    private double biased(double volts) {
        return volts * (1 + gainErrorRatio) + offsetErrorV;
    }

    private double rounded(double volts) {
        return STEP_V * Math.rint((volts + NOISE_V * random.nextGaussian()) / STEP_V);
    }

    private double seenLine(double cycles) {
        double trueV = lineV * Math.sqrt(2) * Math.sin(2 * Math.PI * cycles);
        return trueV * (1 + lineGainErrorRatio) + 0.05 * random.nextGaussian();
    }

    private Waveform waveform(Section section, String rail, double[] output, double[] line) {
        return new Waveform(
                captures++,
                section,
                rail,
                timeS,
                RATE_HZ,
                List.of(new Waveform.Trace("output_V", output), new Waveform.Trace("line_V", line)));
    }

    @Override
    public Waveform capture(Section section, String rail, double windowS) {
        int n = (int) (windowS * RATE_HZ);
        double[] output = new double[n];
        double[] line = new double[n];
        double meanV = outputV();
        double ripple = rippleV();
        double phase = random.nextDouble();
        double bend = bend();
        double top = bend();
        double trough = bend();
        for (int i = 0; i < n; i++) {
            double cycles = i * LINE_HZ / RATE_HZ + phase;
            double saw = 0.5 - (2 * cycles) % 1;
            output[i] = rounded(biased(meanV + ripple * saw) + bend + (top - trough) * saw);
            line[i] = seenLine(cycles);
        }
        timeS += windowS;
        return waveform(section, rail, output, line);
    }

    @Override
    public Look look(String rail, double windowS) {
        timeS += windowS;
        double bend = bend();
        double sum = 0;
        for (int i = 0; i < 16; i++) {
            sum += rounded(biased(outputV()) + bend);
        }
        return new Look(sum / 16, NOISE_V / 4, sum / 16, sum / 16);
    }

    @Override
    public Reading average(String rail, Quantity quantity, double windowS) {
        if (quantity != Quantity.HEAT_SINK) {
            return new Missing("this bench has no such channel");
        }
        double seenC = trueSinkC(timeS) + sinkErrorC + 0.05 * random.nextGaussian();
        return new Measured(seenC, 0.05, SINK_OFFSET_U_C, 99, Unit.CELSIUS);
    }

    @Override
    public Reading loadCurrent(String rail) {
        if (!on) {
            return Measured.of(0, 0, Unit.AMPERE);
        }
        double seenA = currentA() * (1 + loadGainErrorRatio) + loadOffsetErrorA;
        return LOAD.level(Measured.of(DIGIT_A * Math.rint(seenA / DIGIT_A), 0, Unit.AMPERE), 1);
    }

    @Override
    public Map<Quantity, Accuracy> accuracies(String rail) {
        Map<Quantity, Accuracy> all = new EnumMap<>(Quantity.class);
        all.put(Quantity.OUTPUT, CHANNEL);
        all.put(Quantity.LINE, LINE);
        return all;
    }

    @Override
    public double elapsedS() {
        return timeS;
    }

    @Override
    public void envelope(String rail, Envelope envelope) {
        // the truth needs no protection
    }

    @Override
    public void lineOn(double rmsV, double frequencyHz) {
        lineV = rmsV;
        lineSetV = rmsV;
    }

    @Override
    public void lineOff() {
        lineV = 0;
    }

    @Override
    public boolean lineAdjustable() {
        return true;
    }

    @Override
    public boolean lineSwitchesUnderLoad() {
        return true;
    }

    @Override
    public void lineSwitch(boolean live) {
        lineV = live ? lineSetV : 0;
    }

    @Override
    public Waveform captureDuring(Section section, String rail, Span span, Deed deed)
            throws railproof.rig.RunEndException {
        double beforeV = outputV();
        double beforeRippleV = rippleV();
        double lineBeforeV = lineV;
        deed.run();
        // between two samples, and at any phase of the line
        double atS = span.beforeS() + random.nextDouble() / RATE_HZ;
        double phase = random.nextDouble();
        SyntheticChange change = new SyntheticChange(
                random,
                section,
                new SyntheticChange.Level(beforeV, beforeRippleV),
                new SyntheticChange.Level(outputV(), rippleV()),
                LINE_HZ,
                phase);
        int n = (int) ((span.beforeS() + span.afterS()) * RATE_HZ);
        double[] output = new double[n];
        double[] line = new double[n];
        double bend = bend();
        double peakBend = bend();
        double lineAfterV = lineV;
        for (int i = 0; i < n; i++) {
            double sinceS = i / RATE_HZ - atS;
            double trueV = change.voltsAt(sinceS);
            double away = Math.min(1, 4 * Math.abs(trueV - change.finalV()) / change.farthestV());
            output[i] = rounded(biased(trueV) + bend + (peakBend - bend) * away);
            lineV = sinceS < 0 ? lineBeforeV : lineAfterV;
            line[i] = seenLine(sinceS * LINE_HZ + phase);
        }
        lineV = lineAfterV;
        changes.computeIfAbsent(section, any -> new ArrayList<>()).add(change.truth(span.afterS()));
        timeS += span.beforeS() + span.afterS();
        return waveform(section, rail, output, line);
    }

    @Override
    public double lineAskedV() {
        return lineV;
    }

    @Override
    public void load(String rail, LoadMode asked, double level) {
        if (rail.equals(NEIGHBOUR)) {
            neighbourA = level;
            return;
        }
        mode = asked;
        levelDimensionless = level;
    }

    @Override
    public void loadInput(String rail, boolean input) {
        if (rail.equals(NEIGHBOUR)) {
            neighbourOn = input;
            return;
        }
        on = input;
    }

    @Override
    public Setpoint asked(String rail) {
        if (!on) {
            return Setpoint.noLoad(lineV);
        }
        String name = mode == LoadMode.CURRENT ? "CC" : mode == LoadMode.VOLTAGE ? "CV" : "CR";
        return new Setpoint(name, levelDimensionless, lineV);
    }

    @Override
    public Duration loadSettle(String rail) {
        return Duration.ofMillis(10);
    }

    @Override
    public void pause(Duration duration) {
        timeS += duration.toNanos() * 1e-9;
    }

    @Override
    public <T> T workOut(Supplier<T> task) {
        return task.get();
    }

    @Override
    public int nextPointIndex() {
        return points.size();
    }

    @Override
    public void record(Point point) {
        points.add(point);
    }

    @Override
    public void record(Waveform waveform) {
        waveforms.add(waveform);
    }
}
