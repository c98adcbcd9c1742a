package railproof.signal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;
import railproof.base.Measured;
import railproof.base.Unit;

/** A figure that makes no sense is refused by its name, with the figure, before anything is reckoned with it. */
class RefusalsTest {
    private static final double[] SOME = {1, 2, 1, 2, 1, 2, 1, 2, 1, 2, 1, 2};

    private static void refused(String message, Executable call) {
        assertEquals(message, Refusal.of(call));
    }

    private static void notPositive(String name, Executable call) {
        refused(name + " must be finite and above zero, got 0.0", call);
    }

    private static void tooFew(int needed, int got, Executable call) {
        refused("needs at least " + needed + " samples, got " + got, call);
    }

    @Test
    void aValueMustBeFiniteAndAboveZero() {
        for (double wrong : new double[] {0, -1, Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY}) {
            refused("band must be finite and above zero, got " + wrong, () -> Samples.requirePositive("band", wrong));
        }
        Samples.requirePositive("band", Double.MIN_VALUE);
        Samples.requirePositive("band", Double.MAX_VALUE);
    }

    @Test
    void edgesNeedARateAndALine() {
        notPositive("sample rate", () -> LineEdge.on(SOME, 0, 50));
        notPositive("line frequency", () -> LineEdge.on(SOME, 1000, 0));
        notPositive("sample rate", () -> LineEdge.off(SOME, 0, 50));
        notPositive("line frequency", () -> LineEdge.off(SOME, 1000, 0));
        tooFew(2, 1, () -> LineEdge.on(new double[1], 1000, 50));
        tooFew(2, 1, () -> LineEdge.off(new double[1], 1000, 50));
    }

    @Test
    void spectraNeedSamplesAndARate() {
        tooFew(2, 1, () -> Spectrum.of(new double[1], 1000, Window.HANN));
        notPositive("sample rate", () -> Spectrum.of(SOME, 0, Window.HANN));
        notPositive("line frequency", () -> LineSpectrum.of(SOME, 1000, 0));
        refused("sample 3 is NaN, samples must be finite", () -> {
            double[] v = new double[200];
            v[3] = Double.NaN;
            LineSpectrum.of(v, 2000, 50);
        });
        notPositive("sample rate", () -> Aliasing.appearsAtHz(50, 0));
        notPositive("sample rate", () -> SineFit.atFrequency(SOME, 0, 50));
        notPositive("frequency", () -> SineFit.atFrequency(SOME, 1000, 0));
        tooFew(4, 3, () -> SineFit.atFrequency(new double[3], 1000, 50));
    }

    @Test
    void linesNeedPairsOfFiniteValues() {
        double[] x = {1, 2, 3};
        double[] wild = {1, Double.NaN, 3};
        tooFew(3, 2, () -> StraightLine.fit(new double[2], new double[2]));
        tooFew(2, 1, () -> StraightLine.fitWeighted(new double[1], new double[1], new double[1]));
        tooFew(2, 1, () -> StraightLine.throughOrigin(new double[1], new double[1]));
        tooFew(2, 1, () -> StraightLine.fitWeighted(x, x, new double[1]));
        refused("got 3 values of x and 4 of y", () -> StraightLine.fit(x, new double[4]));
        refused("got 3 values of x and 2 of y", () -> StraightLine.throughOrigin(x, new double[2]));
        refused("got 3 values of x and 2 of y", () -> StraightLine.fitWeighted(x, x, new double[] {1, 1}));
        String notFinite = "sample 1 is NaN, samples must be finite";
        refused(notFinite, () -> StraightLine.fit(x, wild));
        refused(notFinite, () -> StraightLine.fit(wild, x));
        refused(notFinite, () -> StraightLine.throughOrigin(wild, x));
        refused(notFinite, () -> StraightLine.fitWeighted(x, wild, x));
        refused(notFinite, () -> StraightLine.fitWeighted(x, x, wild));
        notPositive("spread of x", () -> StraightLine.fit(new double[] {2, 2, 2}, x));
        notPositive("sum of x squared", () -> StraightLine.throughOrigin(new double[3], x));
        notPositive("standard uncertainty 1", () -> StraightLine.fitWeighted(x, x, new double[] {1, 0, 1}));
    }

    @Test
    void slowReadingsNeedALength() {
        tooFew(5, 4, () -> Drift.of(new double[4], new double[4]));
        tooFew(8, 7, () -> WarmUp.of(new double[7], new double[7]));
        tooFew(8, 7, () -> WarmUp.of(new double[8], new double[7]));
        refused("9 times, 8 values", () -> WarmUp.of(new double[9], new double[8]));
        notPositive("length of the record", () -> WarmUp.of(new double[8], new double[8]));
        refused("what is left must be above 0 and at most 1, got 0.0", () -> new WarmUp(5, 1, 60, 1, 0).leftAtS(0));
        refused("sample 0 is NaN, samples must be finite", () -> Settling.of(new double[] {Double.NaN, 1, 1}, 0.1));
    }

    @Test
    void uncertaintiesNeedWidths() {
        notPositive("sum of the half-widths", () -> Coverage.P95.trapezoidFactor(0, 0));
        notPositive("half-width", () -> Coverage.P95.rectangleAndNormalFactor(0, 1));
        refused(
                "standard uncertainty must be finite and above zero, got -1.0",
                () -> Conformance.probability(1, -1, 0, 2));
        notPositive("tolerance span", () -> Conformance.testUncertaintyRatio(0, 1));
        notPositive("expanded uncertainty", () -> Conformance.testUncertaintyRatio(1, 0));
        notPositive("test uncertainty ratio", () -> Conformance.globalRisk(0, 0.95, 0));
        refused("probability must lie between 0 and 1, got 0.0", () -> Students.quantile(0, 5));
        refused("probability must lie between 0 and 1, got 1.0", () -> Students.quantile(1, 5));
        refused("degrees of freedom must be at least 1, got 0.99", () -> Students.cdf(1, 0.99));
        UncertaintyBudget.Entry.normal("noise", 0, 1);
        refused(
                "noise: must be finite and zero or more, got -0.1",
                () -> UncertaintyBudget.Entry.normal("noise", -0.1, 5));
        refused(
                "noise: sensitivity must be finite and degrees of freedom at least 1, got 1.0 and 0.9",
                () -> UncertaintyBudget.Entry.normal("noise", 0.1, 0.9));
    }

    @Test
    void ratiosNeedSomethingToBeARatioOf() {
        Measured some = Measured.of(5, 0.01, Unit.VOLT);
        Measured none = Measured.of(0, 0.01, Unit.VOLT);
        notPositive("base", () -> Regulation.ofBase(some, some, 0));
        refused("output at full load must be above zero, got 0.0 V", () -> Regulation.ofFullLoad(some, none));
        refused("output without load must be above zero, got 0.0 V", () -> Regulation.ofNoLoad(none, some));
        notPositive("input ripple", () -> RippleRejection.decibels(0, 1));
        notPositive("output ripple", () -> RippleRejection.decibels(1, 0));
    }

    @Test
    void theLineNeedsFourHundredSamplesPerSecond() {
        refused("sample rate must be at least 400 Hz, got 399.0", () -> LineFrequency.ofLine(SOME, 399));
        tooFew(8, 7, () -> LineFrequency.ofLine(new double[7], 400));
    }
}
