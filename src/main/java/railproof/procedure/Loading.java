package railproof.procedure;

import java.util.List;
import railproof.instrument.LoadMode;
import railproof.profile.Profile;
import railproof.profile.Program;
import railproof.profile.Rail;
import railproof.rig.Bench;
import railproof.rig.RunEndException;

/** The loads on the rails that are not being looked at, within the power the unit may give in all. */
final class Loading {
    private final Bench bench;
    private final Program program;

    Loading(Bench bench, Profile profile) {
        this.bench = bench;
        this.program = profile.plan().program();
    }

    /** Whether any two of the rails share a load. */
    boolean anyShared(List<Rail> rails) {
        for (int i = 0; i < rails.size(); i++) {
            for (int k = i + 1; k < rails.size(); k++) {
                if (bench.sharesLoad(rails.get(i).name(), rails.get(k).name())) {
                    return true;
                }
            }
        }
        return false;
    }

    /**
     * Puts the profile's load on the others; all of them less by the same part if the sum would pass the unit's power
     * with the one rail at full load.
     */
    void others(Rail loaded, List<Rail> others) throws RunEndException {
        double ratio = program.othersLoadRatio();
        double wantedW =
                others.stream().mapToDouble(rail -> ratio * fullW(rail)).sum();
        double leftW = Math.max(0, program.sumPowerMaxW().orElse(Double.POSITIVE_INFINITY) - fullW(loaded));
        double part = wantedW > leftW ? leftW / wantedW : 1;
        for (Rail rail : others) {
            double currentA = Math.max(part * ratio * rail.ratedCurrentA(), rail.minimumLoadA());
            if (currentA > 0) {
                bench.load(rail.name(), LoadMode.CURRENT, currentA);
                bench.loadInput(rail.name(), true);
            }
        }
    }

    /** Takes the loads off. */
    void off(List<Rail> rails) throws RunEndException {
        for (Rail rail : rails) {
            bench.loadInput(rail.name(), false);
        }
    }

    private static double fullW(Rail rail) {
        return Math.abs(rail.nominalV()) * rail.ratedCurrentA();
    }
}
