package railproof.instrument;

import java.time.Instant;
import java.util.List;
import java.util.function.UnaryOperator;
import railproof.base.VirtualClock;
import railproof.sim.device.AdcChannel;
import railproof.sim.device.AnalogSource;
import railproof.sim.device.BoardOutputs;
import railproof.sim.device.BoardSettings;
import railproof.sim.device.SimulatedBoard;
import railproof.wire.Link;
import railproof.wire.MemoryLink;

/** A simulated board on a cable of no length, in virtual time, with a driver at the near end. */
final class SimulatedBench {
    static final List<AdcChannel> CHANNELS = List.of(
            AdcChannel.ideal("out", -10.24, 10.24), AdcChannel.ideal("raw", 0, 65.536), AdcChannel.ideal("i", -5, 5));

    /** Voltages that the test moves; time is noted. */
    static final class World implements AnalogSource {
        final double[] inputV = {5.0, 20.0, 1.0};
        double timeS;

        @Override
        public void advanceTo(double nowS) {
            if (nowS < timeS) {
                throw new AssertionError("time went back from " + timeS + " s to " + nowS + " s");
            }
            timeS = nowS;
        }

        @Override
        public double voltageV(int channel) {
            // channel 2 rises by 1 V per second, so that each sample tells when it was taken
            return channel == 2 ? timeS : inputV[channel];
        }
    }

    final VirtualClock clock = new VirtualClock(Instant.EPOCH);
    final World world = new World();
    final SimulatedBoard board;
    final FramedDaqBoard driver;

    SimulatedBench(UnaryOperator<Link> cable) {
        board = new SimulatedBoard(
                BoardSettings.standard("B-0001", CHANNELS, 7), world, BoardOutputs.none(), clock.nowNs());
        Link link = cable.apply(new MemoryLink("daq", clock, board));
        int[] nonce = {1000};
        driver = new FramedDaqBoard("daq", link, "B-0001", () -> nonce[0]++);
    }

    SimulatedBench() {
        this(link -> link);
    }
}
