package railproof.diagnosis;

import java.util.Arrays;
import railproof.diagnosis.Regulator.Load;
import railproof.profile.LimitShape;
import railproof.profile.LineRating;
import railproof.profile.Rail;
import railproof.signal.LineSpectrum;

/**
 * What one unit shows at every node under every condition: the rectifier's cycle laid over the regulator's static curve.
 * The loop is far faster than the line, so the output at any instant is the static one at that raw voltage. Confined to
 * one thread.
 */
@SuppressWarnings("EnumOrdinal") // faults, parts and features index dense arrays
final class UnitModel {
    private static final int LEVELS = 6;
    private static final int LOAD_STEPS = 3;
    private static final int HALVINGS = 12;
    private static final double LIMIT_RATIO = 0.95;
    /** Resistance that stands for a short: so small a share of the rated load resistance. */
    static final double SHORT_RATIO = 0.05;
    /** A load step is from 10 % to 90 % of the rating. */
    private static final double STEP_RATIO = 0.8;

    private static final double AIR_C = 25;
    /** Noise of a sound rail, r.m.s. over the nominal output, as a channel of a bench sees it. */
    private static final double NOISE_RATIO = 4e-5;

    private final Circuit circuit;
    private final Rail rail;
    private final LineRating line;
    private final Rectifier rectifier;
    private final Regulator regulator;
    private final double[] seen = new double[Feature.ALL.size()];
    private final double[][] levels = new double[LEVELS][5];
    private final double[] outV = new double[Rectifier.STEPS];
    private double meanRawV;
    private double meanOutV;
    private double lastBaseV;
    private double lastReferenceV;
    private double lastTapV;
    private double loopGainDimensionless;

    UnitModel(Circuit circuit, Rail rail, LineRating line) {
        this.circuit = circuit;
        this.rail = rail;
        this.line = line;
        circuit.noLimiter = rail.limitShape() == LimitShape.NONE;
        rectifier = new Rectifier(circuit, line.frequencyHz());
        regulator = new Regulator(circuit);
    }

    /** All features in their natural units, in the order of {@link Feature#ALL}. */
    double[] readings() {
        rectifier.solve(1, circuit.windingOhm, 0.01 * circuit.ratedA);
        regulator.powerUp(mean(rectifier.rawV), Load.current(rail.minimumLoadA()));
        look(Condition.NO_LOAD, 1, rail.minimumLoadA());
        raise(rail.minimumLoadA(), 0.5 * circuit.ratedA, meanRawV);
        look(Condition.HALF_LOAD, 1, 0.5 * circuit.ratedA);
        double[] half = regulator.nodeV.clone();
        raise(0.5 * circuit.ratedA, circuit.ratedA, meanRawV);
        look(Condition.FULL_LOAD, 1, circuit.ratedA);
        double[] full = regulator.nodeV.clone();
        loopGainDimensionless = regulator.loopGain();
        loadTests(half, full);
        dynamics();
        restore(full);
        look(Condition.LOW_LINE, line.lowV() / line.nominalV(), circuit.ratedA);
        restore(full);
        look(Condition.HIGH_LINE, line.highV() / line.nominalV(), circuit.ratedA);
        restore(full);
        warm();
        return seen;
    }

    /** Loop gain at full load, after {@link #readings}. */
    double loopGain() {
        return loopGainDimensionless;
    }

    private void restore(double[] nodeV) {
        System.arraycopy(nodeV, 0, regulator.nodeV, 0, nodeV.length);
    }

    /** The load brought up in steps, so that the solution stays on the branch a real load would be on. */
    private void raise(double fromA, double toA, double rawV) {
        for (int i = 1; i <= LOAD_STEPS; i++) {
            regulator.solve(rawV, Load.current(fromA + (toA - fromA) * i / LOAD_STEPS));
        }
    }

    private void look(Condition at, double lineRatio, double loadA) {
        double windingOhm =
                at == Condition.WARM && circuit.hotWindingOhm > 0 ? circuit.hotWindingOhm : circuit.windingOhm;
        Load load = Load.current(loadA);
        double drawnA = Math.max(loadA, 1e-3 * circuit.ratedA);
        for (int i = 0; i < 3; i++) {
            rectifier.solve(lineRatio, windingOhm, drawnA);
            regulator.solve(mean(rectifier.rawV), load);
            double nowA = regulator.rawA();
            boolean close = Math.abs(nowA - drawnA) < 0.01 * circuit.ratedA * Math.min(1, 0.05 + loadA);
            drawnA = nowA;
            if (close) {
                break;
            }
        }
        curve(load);
        set(Sight.OUTPUT, at, meanOutV);
        set(Sight.RAW, at, meanRawV);
        if (at != Condition.WARM) {
            set(Sight.OUTPUT_RIPPLE, at, span(outV));
            set(Sight.RAW_RIPPLE, at, span(rectifier.rawV));
        }
        if (at.ordinal() <= Condition.FULL_LOAD.ordinal()) {
            set(Sight.OUTPUT_FAST, at, fastRmsV());
        }
        if (at == Condition.HALF_LOAD || at == Condition.FULL_LOAD) {
            set(Sight.OUTPUT_LINE, at, lineAmplitude(outV));
            set(Sight.RAW_LINE, at, lineAmplitude(rectifier.rawV));
            set(Sight.RAW_FALL, at, fall());
        }
    }

    /** The regulator over the raw voltages of the cycle. */
    private void curve(Load load) {
        double low = Arrays.stream(rectifier.rawV).min().orElse(0);
        double high = Arrays.stream(rectifier.rawV).max().orElse(0);
        double stepV = Math.max(1e-9, (high - low) / (LEVELS - 1));
        for (int i = LEVELS - 1; i >= 0; i--) {
            regulator.solve(low + i * stepV, load);
            double[] nodeV = regulator.nodeV;
            levels[i] = new double[] {
                nodeV[Regulator.OUT],
                nodeV[Regulator.BASE] - nodeV[Regulator.OUT],
                nodeV[Regulator.REFERENCE],
                nodeV[Regulator.TAP]
            };
        }
        double[] sums = new double[4];
        for (int k = 0; k < Rectifier.STEPS; k++) {
            double x = (rectifier.rawV[k] - low) / stepV;
            int i = Math.min(LEVELS - 2, (int) x);
            double part = x - i;
            for (int n = 0; n < 4; n++) {
                double v = levels[i][n] + part * (levels[i + 1][n] - levels[i][n]);
                sums[n] += v;
                if (n == 0) {
                    outV[k] = v;
                }
            }
        }
        meanRawV = mean(rectifier.rawV);
        meanOutV = sums[0] / Rectifier.STEPS;
        lastBaseV = sums[1] / Rectifier.STEPS;
        lastReferenceV = sums[2] / Rectifier.STEPS;
        lastTapV = sums[3] / Rectifier.STEPS;
        regulator.solve(meanRawV, load);
    }

    private void set(Sight sight, Condition at, double value) {
        seen[new Feature(sight, at).index()] = value;
        if (sight == Sight.RAW) {
            seen[new Feature(Sight.REFERENCE, at).index()] = lastReferenceV;
            if (at != Condition.WARM) {
                seen[new Feature(Sight.BASE, at).index()] = lastBaseV;
                seen[new Feature(Sight.SENSE_TAP, at).index()] = lastTapV;
            }
        }
    }

    private void loadTests(double[] half, double[] full) {
        double emptyV = seen[new Feature(Sight.OUTPUT, Condition.NO_LOAD).index()];
        double fullV = seen[new Feature(Sight.OUTPUT, Condition.FULL_LOAD).index()];
        double halfV = seen[new Feature(Sight.OUTPUT, Condition.HALF_LOAD).index()];
        double rawEmptyV = seen[new Feature(Sight.RAW, Condition.NO_LOAD).index()];
        double rawFullV = seen[new Feature(Sight.RAW, Condition.FULL_LOAD).index()];
        double dropV = LIMIT_RATIO * Math.min(emptyV, circuit.nominalV);
        double probeA = rail.maxProbeCurrentA();
        double goodA = 0;
        double badA = probeA;
        if (fullV >= dropV) {
            restore(full);
            goodA = circuit.ratedA;
        } else if (halfV >= dropV) {
            restore(half);
            goodA = 0.5 * circuit.ratedA;
            badA = circuit.ratedA;
        } else {
            regulator.powerUp(rawEmptyV, Load.current(0));
            badA = 0.5 * circuit.ratedA;
        }
        double slopeOhm = Math.max(0, (rawEmptyV - rawFullV) / circuit.ratedA);
        double[] good = regulator.nodeV.clone();
        boolean limited = false;
        for (int i = 0; i < HALVINGS; i++) {
            double tryA = i == 0 ? badA : 0.5 * (goodA + badA);
            // the raw voltage sags less than straight at first; between full load and there a straight line will do
            double rawV = Math.max(0, rawFullV - slopeOhm * 0.6 * (tryA - circuit.ratedA));
            regulator.solve(Math.min(rawV, rawEmptyV), Load.current(tryA));
            if (regulator.nodeV[Regulator.OUT] >= dropV) {
                goodA = tryA;
                good = regulator.nodeV.clone();
                if (i == 0) {
                    break;
                }
            } else {
                limited = true;
                badA = tryA;
                restore(good);
            }
        }
        set(Sight.LIMIT, limited ? 0.5 * (goodA + badA) : probeA);
        regulator.powerUp(rawEmptyV, new Load(0, 1 / (SHORT_RATIO * circuit.ratedOhm())));
        double sagV = slopeOhm * Math.min(probeA, regulator.rawA());
        regulator.solve(
                Math.max(0.3 * rawEmptyV, rawEmptyV - sagV), new Load(0, 1 / (SHORT_RATIO * circuit.ratedOhm())));
        set(Sight.SHORT, regulator.nodeV[Regulator.OUT] / (SHORT_RATIO * circuit.ratedOhm()));
    }

    private void set(Sight sight, double value) {
        seen[new Feature(sight, Condition.FULL_LOAD).index()] = value;
    }

    /** What no static solution shows; by rules, with wide spreads. */
    private void dynamics() {
        double swing = STEP_RATIO * circuit.ratedA;
        // within a microsecond the capacitor carries the step, and its series resistance shows; what the follower
        // leaves of
        // it with a worn-out capacitor is some 0.04 of the rated load resistance (circuit simulation of one supply)
        double ohm = 1 / (1 / (0.6 * circuit.outputEsrOhm) + 1 / (0.04 * circuit.ratedOhm()));
        set(Sight.UNDERSHOOT, swing * ohm * circuit.stepRatio);
        set(Sight.LINE, circuit.inletRatio);
        for (Condition at : new Condition[] {Condition.NO_LOAD, Condition.HALF_LOAD, Condition.FULL_LOAD}) {
            double out = seen[new Feature(Sight.OUTPUT, at).index()];
            double regulating = Math.min(1, Math.max(0, out / circuit.nominalV));
            // drop-out cuts notches, whose edges reach beyond the harmonics that belong to the line
            double notchV = seen[new Feature(Sight.OUTPUT_FAST, at).index()];
            double restV = Math.hypot(notchV, NOISE_RATIO * circuit.nominalV * circuit.noiseRatio);
            double noisyV = circuit.referenceNoiseRatio * out;
            seen[new Feature(Sight.OUTPUT_REST, at).index()] = Math.hypot(restV, noisyV);
            double oscillating = at == Condition.NO_LOAD ? 0 : at.loadRatio();
            double tone = circuit.oscillationRatio * circuit.nominalV * oscillating * regulating;
            seen[new Feature(Sight.OUTPUT_FAST, at).index()] = Math.hypot(restV, tone);
            int ripple = new Feature(Sight.OUTPUT_RIPPLE, at).index();
            seen[ripple] += 2.83 * tone + 2.5 * noisyV;
            if (at != Condition.NO_LOAD) {
                int lineAmplitude = new Feature(Sight.OUTPUT_LINE, at).index();
                seen[lineAmplitude] = Math.hypot(seen[lineAmplitude], 0.5 * noisyV);
            }
            seen[new Feature(Sight.OUTPUT_REST, at).index()] =
                    Math.hypot(seen[new Feature(Sight.OUTPUT_REST, at).index()], tone);
        }
        double out = seen[new Feature(Sight.OUTPUT, Condition.FULL_LOAD).index()];
        set(
                Sight.OUTPUT_DIP,
                circuit.outageRatio * 0.9 * out
                        + 3 * NOISE_RATIO * circuit.nominalV * circuit.noiseRatio
                        + 0.6 * circuit.referenceNoiseRatio * out);
    }

    private void warm() {
        regulator.reference(circuit.hotReferenceRatio);
        look(Condition.WARM, 1, circuit.ratedA);
        double lostW = meanRawV * regulator.rawA()
                - meanOutV * Load.current(circuit.ratedA).at(meanOutV);
        seen[new Feature(Sight.HEAT_SINK, Condition.WARM).index()] = AIR_C + circuit.heatSinkKPerW * Math.max(0, lostW);
    }

    /** Median fall over a tenth of a ripple period, as the same name in the signal package reads it, V/s. */
    private double fall() {
        int lag = Rectifier.STEPS / 20;
        double[] falls = new double[Rectifier.STEPS];
        int count = 0;
        for (int k = 0; k < Rectifier.STEPS; k++) {
            double change = rectifier.rawV[(k + lag) % Rectifier.STEPS] - rectifier.rawV[k];
            if (change < 0) {
                falls[count++] = -change;
            }
        }
        if (count == 0) {
            return 0;
        }
        double[] falling = Arrays.copyOf(falls, count);
        Arrays.sort(falling);
        return falling[count / 2] * line.frequencyHz() * Rectifier.STEPS / lag;
    }

    private static double lineAmplitude(double[] v) {
        double sine = 0;
        double cosine = 0;
        for (int k = 0; k < v.length; k++) {
            double angle = 2 * Math.PI * k / v.length;
            sine += v[k] * Math.sin(angle);
            cosine += v[k] * Math.cos(angle);
        }
        return 2 * Math.hypot(sine, cosine) / v.length;
    }

    /** What of the output belongs to the harmonics beyond the 20th, V r.m.s. */
    private double fastRmsV() {
        double squares = 0;
        double spanV = span(outV);
        if (spanV < 1e-6 * circuit.nominalV) {
            return 0;
        }
        for (double v : outV) {
            squares += (v - meanOutV) * (v - meanOutV) / outV.length;
        }
        for (int h = 1; h <= LineSpectrum.HARMONICS; h++) {
            double sine = 0;
            double cosine = 0;
            for (int k = 0; k < outV.length; k++) {
                int turned = h * (k + 1) % outV.length;
                sine += outV[k] * Rectifier.SINE[(turned + outV.length - 1) % outV.length];
                cosine += outV[k] * Rectifier.SINE[(turned + outV.length / 4 - 1) % outV.length];
            }
            squares -= 2 * (sine * sine + cosine * cosine) / outV.length / outV.length;
        }
        return Math.sqrt(Math.max(0, squares));
    }

    private static double mean(double[] v) {
        double sum = 0;
        for (double each : v) {
            sum += each;
        }
        return sum / v.length;
    }

    private static double span(double[] v) {
        double low = v[0];
        double high = v[0];
        for (double each : v) {
            low = Math.min(low, each);
            high = Math.max(high, each);
        }
        return high - low;
    }
}
