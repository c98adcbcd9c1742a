package railproof.rig;

import java.time.Duration;
import railproof.instrument.InstrumentException;
import railproof.instrument.LineSource;
import railproof.wire.LinkException;

/** Mains from a programmable source, switched by the source and, if there is one, the board's line relay. */
final class ProgrammableLine implements LineFeed {
    private final LineSource source;
    private final Duration settle;

    ProgrammableLine(LineSource source, Duration settle) {
        this.source = source;
        this.settle = settle;
    }

    @Override
    public void on(LineAccess bench, double rmsV, double frequencyHz) throws RunEndException {
        bench.exchange(() -> {
            source.set(rmsV, frequencyHz);
        });
        // relay before source: the relay never switches a live line
        bench.lineRelay(true);
        bench.exchange(() -> source.output(true));
        bench.pause(settle);
    }

    @Override
    public void off(LineAccess bench) throws RunEndException {
        bench.exchange(() -> source.output(false));
        bench.lineRelay(false);
    }

    @Override
    public boolean makeSafe() throws LinkException, InstrumentException, InterruptedException {
        source.output(false);
        return true;
    }

    @Override
    public boolean switchesItself() {
        return true;
    }

    @Override
    public boolean emergencyOff() {
        return source.emergencyOff();
    }
}
