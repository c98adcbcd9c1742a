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
import railproof.rig.Bench;
import railproof.rig.Envelope;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.Section;
import railproof.run.Setpoint;
import railproof.run.Waveform;

/**
 * A bench whose truth is known to the last digit: a rail with output resistance, line sensitivity, sawtooth ripple and a
 * hard limit, read through a channel and a load whose errors are drawn from the uncertainties they state. Procedures
 * and judge see what they see on any bench; no protocol lies between, so thousands of rigs take minutes.
 */
final class SyntheticBench implements Bench {
    private static final double NOISE_V = 2e-4;
    static final Accuracy CHANNEL = new Accuracy(2e-4, 5e-4, 1e-4, NOISE_V);
    private static final double DIGIT_A = 5e-4;
    static final Accuracy LOAD = new Accuracy(5e-4, 5e-4, DIGIT_A / Math.sqrt(12), 0);
    private static final double STEP_V = 10 / 32768.0;
    private static final double RATE_HZ = 25_000;
    private static final double LINE_HZ = 60;
    private static final double NOMINAL_LINE_V = 115;
    private static final double LOW_LINE_V = 103.5;

    final double openV;
    final double outputOhm;
    final double lineVPerV;
    final double limitA;
    final double ripplePpV;
    final List<Point> points = new ArrayList<>();
    private final Random random;
    private final double gainErrorRatio;
    private final double offsetErrorV;
    private final double loadGainErrorRatio;
    private final double loadOffsetErrorA;
    private double timeS;
    private double lineV;
    private LoadMode mode = LoadMode.CURRENT;
    private double levelDimensionless;
    private boolean on;
    private int waveforms;

    SyntheticBench(Random random) {
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
    }

    /** True mean output at a current it can give, V. */
    double trueV(double currentA, double lineRmsV) {
        return openV - outputOhm * currentA + lineVPerV * (lineRmsV - NOMINAL_LINE_V);
    }

    private double outputV() {
        if (lineV < 60) {
            return 0;
        }
        if (!on) {
            return trueV(0, lineV);
        }
        if (mode == LoadMode.CURRENT) {
            return levelDimensionless <= limitA ? trueV(levelDimensionless, lineV) : 0.3;
        }
        double unlimitedV = trueV(0, lineV) * levelDimensionless / (levelDimensionless + outputOhm);
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
        return ripplePpV * currentA() / 2 * (1 - 2.5 * (lineV / LOW_LINE_V - 1));
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
            line[i] = lineV * Math.sqrt(2) * Math.sin(2 * Math.PI * cycles) + 0.05 * random.nextGaussian();
        }
        timeS += windowS;
        return new Waveform(
                waveforms++,
                section,
                rail,
                timeS,
                RATE_HZ,
                List.of(new Waveform.Trace("output_V", output), new Waveform.Trace("line_V", line)));
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
        return new Missing("this bench has no slow quantities");
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
        all.put(Quantity.LINE, new Accuracy(1e-3, 0.1, 0.05, 0.05));
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
    public double lineBandRatio() {
        return 0.001;
    }

    @Override
    public boolean lineSwitchesUnderLoad() {
        return false;
    }

    @Override
    public void lineSwitch(boolean on) {
        throw new IllegalStateException("these rigs do not switch the line under load");
    }

    @Override
    public Reading lineCurrent() {
        return new railproof.base.Missing("not measured here");
    }

    @Override
    public boolean sharesLoad(String rail, String other) {
        return false;
    }

    @Override
    public Waveform captureDuring(Section section, String rail, Span span, Deed deed)
            throws railproof.rig.RunEndException {
        deed.run();
        return capture(section, rail, span.beforeS() + span.afterS());
    }

    @Override
    public double lineAskedV() {
        return lineV;
    }

    @Override
    public void load(String rail, LoadMode asked, double level) {
        mode = asked;
        levelDimensionless = level;
    }

    @Override
    public void loadInput(String rail, boolean input) {
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
    public double loadMinimumV(String rail) {
        return 0.3;
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
    public String ask(String text) {
        return "";
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
        // judged from points alone
    }

    @Override
    public void section(Section section, String rail, int pointsPlanned) {
        // nobody watches
    }

    @Override
    public void note(RunEvent.Note.Level noteLevel, String text) {
        // nobody watches
    }
}
