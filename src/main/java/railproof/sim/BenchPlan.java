package railproof.sim;

import java.util.List;
import java.util.Map;
import railproof.sim.device.AdcChannel;
import railproof.sim.device.LoadAccuracy;
import railproof.sim.device.LoadRatings;

/**
 * How the simulated bench is wired: which input sees what, which load hangs on which rail.
 *
 * @param taps what each board input sees, by input number; inputs without an entry see nothing
 * @param adc the converter of each board input, in order
 * @param loads the loads, by their rig-file names
 * @param lineRelayMask board relays between mains and unit; 0: the line is always connected
 * @param programmableLine whether a line source feeds the unit; otherwise a hand does
 * @param seed of all noise
 * @param flaws what is not as it should be on the bench itself
 */
public record BenchPlan(
        Map<Integer, Tap> taps,
        List<AdcChannel> adc,
        Map<String, LoadPlan> loads,
        int lineRelayMask,
        boolean programmableLine,
        long seed,
        Flaws flaws) {
    public BenchPlan {
        taps = Map.copyOf(taps);
        adc = List.copyOf(adc);
        loads = Map.copyOf(loads);
    }

    /** A bench without flaws. */
    public BenchPlan(
            Map<Integer, Tap> taps,
            List<AdcChannel> adc,
            Map<String, LoadPlan> loads,
            int lineRelayMask,
            boolean programmableLine,
            long seed) {
        this(taps, adc, loads, lineRelayMask, programmableLine, seed, Flaws.NONE);
    }

    /**
     * What is not as it should be on the bench itself.
     *
     * @param boardClockErrorRatio how much too fast the board's clock runs: 80e-6 is 80 ppm
     * @param mainsCrestRatio peak over root mean square of a hand-turned line, as the wall socket gives it; a
     *     programmable source makes its own
     */
    public record Flaws(double boardClockErrorRatio, double mainsCrestRatio) {
        /** A true clock, mains like a sine. */
        public static final Flaws NONE = new Flaws(0, Math.sqrt(2));
    }

    /** What an input sees. */
    public sealed interface Tap {}

    /** The mains at the unit's inlet. */
    public record LineTap() implements Tap {}

    /** A calibrator, set with {@link SimulatedBench#calibrator}. */
    public record CalibratorTap() implements Tap {}

    /**
     * A node of a rail.
     *
     * @param rail index of the rail
     */
    public record NodeTap(int rail, Node node) implements Tap {}

    /**
     * The temperature of a rail's heat sink; the input's "volts" are degrees Celsius.
     *
     * @param rail index of the rail
     */
    public record HeatSinkTap(int rail) implements Tap {}

    /**
     * A way from a load to a rail.
     *
     * @param rail index of the rail
     * @param relayMask board relays that close it; 0: leads that are always there
     */
    public record Way(int rail, int relayMask) {}

    /**
     * A load.
     *
     * @param ways the rails it can hang on; none for a load that is not connected
     * @param ratings what kind of load it is
     * @param accuracy how wrong it is
     * @param leadOhm resistance of the pair of leads between load and rail, Ω
     */
    public record LoadPlan(List<Way> ways, LoadRatings ratings, LoadAccuracy accuracy, double leadOhm) {
        public LoadPlan {
            ways = List.copyOf(ways);
        }

        /** A load on one rail. */
        public LoadPlan(int rail, int relayMask, LoadRatings ratings, LoadAccuracy accuracy, double leadOhm) {
            this(List.of(new Way(rail, relayMask)), ratings, accuracy, leadOhm);
        }

        /** The same on leads without resistance. */
        public LoadPlan(int rail, int relayMask, LoadRatings ratings, LoadAccuracy accuracy) {
            this(rail, relayMask, ratings, accuracy, 0);
        }

        /** The same load with its leads elsewhere. */
        public LoadPlan on(List<Way> otherWays) {
            return new LoadPlan(otherWays, ratings, accuracy, leadOhm);
        }
    }
}
