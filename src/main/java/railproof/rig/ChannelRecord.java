package railproof.rig;

import java.util.Optional;
import railproof.run.ChannelAccuracy;
import railproof.run.Quantity;
import railproof.run.RunEvent;

/** Puts on record how well every channel of a run measures, before the first point is taken. */
final class ChannelRecord {
    private ChannelRecord() {}

    /** Records all channels of all rails, the line and the loads' current among them. */
    static void keep(Rig rig, BenchTalk talk) throws RunEndException {
        int codeBits = rig.board().capability().codeBits();
        for (RailPosition position : rig.positions()) {
            for (Quantity quantity : Quantity.values()) {
                Channel channel = quantity == Quantity.LINE
                        ? rig.lineChannel()
                        : position.channels().get(quantity);
                if (channel != null) {
                    emit(talk, of(position.rail(), quantity, channel, codeBits));
                }
            }
            emit(talk, ofLoad(position));
        }
    }

    private static void emit(BenchTalk talk, ChannelAccuracy accuracy) throws RunEndException {
        talk.emit(new RunEvent.ChannelUsed(talk.elapsedS(), accuracy));
    }

    private static ChannelAccuracy of(String rail, Quantity quantity, Channel channel, int codeBits) {
        return of(
                rail,
                quantity,
                channel.name(),
                channel.accuracy(),
                Math.abs(channel.perCode(codeBits)),
                calibrated(channel));
    }

    private static Optional<ChannelAccuracy.Calibrated> calibrated(Channel channel) {
        return channel.calibration()
                .map(line -> new ChannelAccuracy.Calibrated(
                        line.calibratedOn(), line.dueOn(), line.reference().meter()));
    }

    /** The load's own meter; its resolution is what stands for its non-linearity. */
    private static ChannelAccuracy ofLoad(RailPosition position) {
        Accuracy accuracy = position.loadAccuracy();
        double stepA = accuracy.nonLinearityDimensionless() * Math.sqrt(12);
        Accuracy rest = new Accuracy(accuracy.gainRatio(), accuracy.offsetDimensionless(), 0, 0);
        return of(position.rail(), Quantity.LOAD_CURRENT, position.load().name(), rest, stepA, Optional.empty());
    }

    private static ChannelAccuracy of(
            String rail,
            Quantity quantity,
            String name,
            Accuracy accuracy,
            double step,
            Optional<ChannelAccuracy.Calibrated> calibrated) {
        return new ChannelAccuracy(
                rail,
                quantity,
                name,
                accuracy.gainRatio(),
                accuracy.offsetDimensionless(),
                accuracy.fitGainRatio(),
                accuracy.fitPivotDimensionless(),
                accuracy.nonLinearityDimensionless(),
                accuracy.noiseDimensionless(),
                step,
                accuracy.driftRatio(),
                accuracy.leadUOhm(),
                calibrated);
    }
}
