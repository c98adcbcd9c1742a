package railproof.app;

import railproof.instrument.BoardCapability;
import railproof.instrument.ChannelSums;
import railproof.instrument.DaqBoard;
import railproof.instrument.InstrumentException;
import railproof.rig.file.ChannelConfig;
import railproof.wire.LinkException;

/** Reads a channel on its nominal scale, averaged over 0.4 s: whole cycles of 50 and of 60 Hz. */
final class AveragedChannel {
    private static final int SAMPLES = 1000;
    private static final int READS = 4;
    private static final int READS_PER_S = 10;

    private final DaqBoard board;

    AveragedChannel(DaqBoard board) {
        this.board = board;
    }

    double nominal(ChannelConfig channel) throws LinkException, InstrumentException, InterruptedException {
        BoardCapability can = board.capability();
        double sum = 0;
        // the first read is thrown away: input filters still hold what was there before
        for (int i = 0; i <= READS; i++) {
            ChannelSums sums = board.read(1 << channel.input(), SAMPLES, can.tickHz() / READS_PER_S / SAMPLES)
                    .get(0);
            sum += i == 0 ? 0 : channel.range().value(sums.meanCode(), can.codeBits());
        }
        return sum / READS;
    }
}
