package railproof.rig;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import railproof.instrument.ElectronicLoad;
import railproof.instrument.Identity;
import railproof.instrument.InstrumentException;
import railproof.instrument.LoadMode;
import railproof.instrument.LoadProtection;
import railproof.instrument.LoadReading;
import railproof.wire.LinkDownException;
import railproof.wire.LinkException;

/** A load that remembers what it was told and can be made to fail. */
final class FakeLoad implements ElectronicLoad {
    final List<String> heard = new ArrayList<>();
    boolean on;
    boolean ignoresOff;
    boolean dead;
    boolean portTakesEmergency = true;
    double levelA;
    double terminalV = 5;
    /** Part of the level it draws. */
    double drawsRatio = 1;
    /** Drawn with the input off, A. */
    double leaksA;
    /** Answers, but does not do as told. */
    boolean refuses;

    @Override
    public String name() {
        return "load";
    }

    private void hear(String what) throws LinkException {
        heard.add(what);
        if (dead) {
            throw new LinkDownException("load", "the port is gone");
        }
    }

    @Override
    public Identity connect() throws LinkException {
        hear("connect");
        on = false;
        return new Identity("fake load", "F1", "1", true);
    }

    @Override
    public void protect(LoadProtection protection) throws LinkException {
        hear("protect");
    }

    @Override
    public void set(LoadMode mode, double level) throws LinkException, InstrumentException {
        hear("set " + mode + " " + level);
        if (refuses) {
            throw new InstrumentException("load", "set", "no error", "refused");
        }
        levelA = level;
    }

    @Override
    public void input(boolean wanted) throws LinkException, InstrumentException {
        hear("input " + wanted);
        if (!wanted && ignoresOff) {
            throw new InstrumentException("load", ":INP OFF", "OFF", "ON");
        }
        on = wanted;
    }

    @Override
    public boolean inputOn() throws LinkException {
        hear("input?");
        return on;
    }

    @Override
    public LoadReading measure() throws LinkException {
        hear("measure");
        return new LoadReading(terminalV, on ? drawsRatio * levelA : leaksA);
    }

    @Override
    public void checkHealth() throws LinkException {
        hear("health");
    }

    @Override
    public boolean hasWatchdog() {
        return false;
    }

    @Override
    public boolean emergencyOff() {
        heard.add("EMERGENCY OFF");
        if (portTakesEmergency && !ignoresOff && !dead) {
            on = false;
        }
        return portTakesEmergency && !dead;
    }

    @Override
    public void close() {
        heard.add("close");
    }

    /** A record's trouble, for sinks. */
    static IOException diskFull() {
        return new IOException("no space left on device");
    }
}
