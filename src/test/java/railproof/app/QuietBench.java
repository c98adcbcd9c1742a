package railproof.app;

import railproof.base.Reading;
import railproof.rig.Bench;
import railproof.run.RunEvent;
import railproof.run.Section;

/** What a bench without an operator, a display or shared loads has to say. */
abstract class QuietBench implements Bench {
    @Override
    public String ask(String text) {
        return "";
    }

    @Override
    public void section(Section section, String rail, int pointsPlanned) {
        // nobody watches
    }

    @Override
    public void note(RunEvent.Note.Level noteLevel, String text) {
        // nobody watches
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
    public double lineBandRatio() {
        return 0.001;
    }

    @Override
    public double loadMinimumV(String rail) {
        return 0.3;
    }
}
