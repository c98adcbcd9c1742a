package railproof.sim.supply;

import java.util.random.RandomGenerator;

/** The faults that come and go. */
final class ChangingFaults {
    private static final double GAP_OHM = 1e6;

    private ChangingFaults() {}

    /** A joint in the secondary lead that opens above one temperature and closes below another. */
    static final class CrackedJoint implements FaultProcess {
        private static final double LOOK_S = 0.01;
        private static final double CLOSES_COOLER_K = 8;

        private final RailCircuit circuit;
        private final double opensC;
        private double nextS = LOOK_S;
        private boolean open;

        CrackedJoint(RailCircuit circuit, double severityRatio) {
            this.circuit = circuit;
            opensC = 75 - 40 * severityRatio;
        }

        @Override
        public double nextS() {
            return nextS;
        }

        @Override
        public boolean reach(double sinkC, double rawV) {
            nextS += LOOK_S;
            boolean shouldOpen = open ? sinkC > opensC - CLOSES_COOLER_K : sinkC > opensC;
            if (shouldOpen == open) {
                return false;
            }
            open = shouldOpen;
            circuit.windingOhm += open ? GAP_OHM : -GAP_OHM;
            circuit.touch();
            return true;
        }
    }

    /** A pass transistor whose bond opens and heals at random, exponentially distributed times. */
    static final class IntermittentPass implements FaultProcess {
        private static final double SHORTEST_S = 1e-3;

        private final RailCircuit circuit;
        private final RandomGenerator random;
        private final double goodS;
        private final double badS;
        private double nextS;
        private boolean open;

        IntermittentPass(RailCircuit circuit, double severityRatio, RandomGenerator random) {
            this.circuit = circuit;
            this.random = random;
            goodS = 1 + 8 * (1 - severityRatio);
            badS = 0.4 * severityRatio;
            nextS = waitS(goodS);
        }

        private double waitS(double meanS) {
            return SHORTEST_S - meanS * Math.log(1 - random.nextDouble());
        }

        @Override
        public double nextS() {
            return nextS;
        }

        @Override
        public boolean reach(double sinkC, double rawV) {
            open = !open;
            nextS += waitS(open ? badS : goodS);
            circuit.passCollectorOhm += open ? GAP_OHM : -GAP_OHM;
            circuit.touch();
            return true;
        }
    }

    /** Low-frequency noise in series with the reference: a first-order random process joined by straight lines. */
    static final class NoisyReference implements FaultProcess {
        private static final double KNOT_S = 0.5e-3;
        private static final double CORRELATION_S = 1.6e-3;

        private final RailCircuit circuit;
        private final RandomGenerator random;
        private final double rmsV;
        private double nextS = KNOT_S;
        private double beforeV;
        private double fromV;
        private double toV;

        NoisyReference(RailCircuit circuit, double severityRatio, RandomGenerator random) {
            this.circuit = circuit;
            this.random = random;
            rmsV = 0.01 * severityRatio * circuit.design.reference().zener().breakdownV();
        }

        @Override
        public double nextS() {
            return nextS;
        }

        @Override
        public boolean reach(double sinkC, double rawV) {
            nextS += KNOT_S;
            double keptRatio = Math.exp(-KNOT_S / CORRELATION_S);
            beforeV = fromV;
            fromV = toV;
            toV = keptRatio * fromV + rmsV * Math.sqrt(1 - keptRatio * keptRatio) * random.nextGaussian();
            return false;
        }

        @Override
        public boolean restless() {
            return true;
        }

        @Override
        public void shape(double timeS) {
            double share = 1 - (nextS - timeS) / KNOT_S;
            // a step that was taken back may end in the stretch before
            circuit.referenceOffsetV =
                    share >= 0 ? fromV + (toV - fromV) * share : fromV + (fromV - beforeV) * Math.max(share, -1);
            circuit.touch();
        }
    }

    /** A reference that sinks slowly while the unit is on. */
    static final class DriftingReference implements FaultProcess {
        private static final double LOOK_S = 0.1;
        private static final double TIME_CONSTANT_S = 600;

        private final RailCircuit circuit;
        private final double finalV;
        private double nextS = LOOK_S;
        private double drawnV;

        DriftingReference(RailCircuit circuit, double severityRatio) {
            this.circuit = circuit;
            finalV = -0.04 * severityRatio * circuit.design.reference().zener().breakdownV();
        }

        @Override
        public double nextS() {
            return nextS;
        }

        @Override
        public boolean reach(double sinkC, double rawV) {
            nextS += LOOK_S;
            if (rawV > circuit.design.nominalV()) {
                double moveV = (finalV - drawnV) * LOOK_S / TIME_CONSTANT_S;
                drawnV += moveV;
                circuit.referenceOffsetV += moveV;
                circuit.touch();
            }
            return false;
        }
    }
}
