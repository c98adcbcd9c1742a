package railproof.campaign;

import java.util.List;
import railproof.sim.LoadCharacteristic;
import railproof.sim.Node;
import railproof.sim.Plant;

/**
 * A unit with a rail of 5 V and one above 60 V, as simple as everything a procedure can do to it allows: reservoirs that
 * are full while the line is on and empty themselves afterwards, references that rise in 10 ms, output resistances,
 * current limits. A hundred times as fast as the real model, because a campaign is about what is around the unit.
 */
final class CampaignUnit implements Plant {
    private static final double RAW_RATIO = 1.6;
    private static final double NOMINAL_LINE_V = 115;
    private static final double HEADROOM_V = 1;
    private static final double RISE_S = 0.01;

    private final List<RailState> rails =
            List.of(new RailState(5.02, 0.005, 2.55, 0.03, 1000), new RailState(90.3, 0.2, 0.26, 50e-6, 15_000));
    private double timeS;
    private double lineV;
    private double lineHz = 60;

    /** One rail. */
    private static final class RailState {
        private final double openV;
        private final double outputOhm;
        private final double limitA;
        private final double reservoirF;
        private final double bleederOhm;
        private LoadCharacteristic load = LoadCharacteristic.OPEN;
        private double rawV;
        private double referenceV;
        private double solvedV;
        private boolean solved;

        RailState(double openV, double outputOhm, double limitA, double reservoirF, double bleederOhm) {
            this.openV = openV;
            this.outputOhm = outputOhm;
            this.limitA = limitA;
            this.reservoirF = reservoirF;
            this.bleederOhm = bleederOhm;
        }

        void advance(double stepS, double lineV) {
            double peakV = RAW_RATIO * openV * lineV / NOMINAL_LINE_V;
            double drawnA = currentA() + rawV / bleederOhm;
            rawV = Math.max(peakV, Math.max(0, rawV - drawnA * stepS / reservoirF));
            double target = lineV > 0.2 * NOMINAL_LINE_V ? openV : referenceV;
            referenceV = target - (target - referenceV) * Math.exp(-stepS / RISE_S);
            if (rawV < HEADROOM_V) {
                referenceV = 0;
            }
            solved = false;
        }

        double outputV() {
            if (!solved) {
                solvedV = solve();
                solved = true;
            }
            return solvedV;
        }

        /** Where supply and load meet: bisection on the voltage, because one curve falls and the other rises. */
        private double solve() {
            double openNowV = Math.max(0, Math.min(referenceV, rawV - HEADROOM_V));
            if (load == LoadCharacteristic.OPEN || openNowV == 0) {
                return openNowV;
            }
            double low = 0;
            double high = openNowV;
            // 90 V halved 30 times is 84 nV
            for (int i = 0; i < 30; i++) {
                double middle = (low + high) / 2;
                double availableA = Math.min((openNowV - middle) / outputOhm, limitA);
                if (availableA > load.currentA(middle)) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            return (low + high) / 2;
        }

        double currentA() {
            return load == LoadCharacteristic.OPEN ? 0 : load.currentA(outputV());
        }
    }

    @Override
    public List<String> railNames() {
        return List.of("+5 V", "+90 V");
    }

    @Override
    public double timeS() {
        return timeS;
    }

    @Override
    public void line(double rmsV, double frequencyHz) {
        lineV = rmsV;
        lineHz = frequencyHz;
    }

    @Override
    public void load(int rail, LoadCharacteristic characteristic) {
        rails.get(rail).load = characteristic;
        rails.get(rail).solved = false;
    }

    @Override
    public void advanceTo(double targetS) {
        double stepS = targetS - timeS;
        timeS = targetS;
        if (stepS > 0) {
            rails.forEach(rail -> rail.advance(stepS, lineV));
        }
    }

    @Override
    public double voltageV(int rail, Node node) {
        RailState state = rails.get(rail);
        return switch (node) {
            case LINE -> lineV * Math.sqrt(2) * Math.sin(2 * Math.PI * lineHz * timeS);
            case OUTPUT -> state.outputV();
            case RAW -> state.rawV;
            case BASE -> state.outputV() + 1.4;
            case REFERENCE, SENSE_TAP -> state.referenceV;
        };
    }

    @Override
    public double currentA(int rail) {
        return rails.get(rail).currentA();
    }

    @Override
    public double heatSinkC(int rail) {
        return 30;
    }

    @Override
    public double lineCurrentA() {
        return lineV > 0 ? 0.1 : 0;
    }
}
