package railproof.sim.supply;

/** Root mean square of the mains current over whole line cycles. The last step can be taken back. */
final class LineMeter {
    private double lastS;
    private double lastA;
    private double lastCyclesDimensionless;
    private double startS;
    private double sumA2S;
    private double rmsA;
    private final double[] before = new double[6];

    void take(double timeS, double currentA, double cycles, double magnetisingA) {
        before[0] = lastS;
        before[1] = lastA;
        before[2] = lastCyclesDimensionless;
        before[3] = startS;
        before[4] = sumA2S;
        before[5] = rmsA;
        if (Math.floor(cycles) > Math.floor(lastCyclesDimensionless)) {
            // steps do not end with the cycle; near the line's zero a rectifier draws nothing, but a long step is felt
            double part = (Math.floor(cycles) - lastCyclesDimensionless) / (cycles - lastCyclesDimensionless);
            double endS = lastS + part * (timeS - lastS);
            add(endS, lastA + part * (currentA - lastA));
            if (endS > startS) {
                // the magnetising current lags by a quarter cycle, so it adds in squares to the in-phase load current
                rmsA = Math.sqrt(sumA2S / (endS - startS) + magnetisingA * magnetisingA);
            }
            startS = endS;
            sumA2S = 0;
        }
        add(timeS, currentA);
        lastCyclesDimensionless = cycles;
    }

    private void add(double timeS, double currentA) {
        sumA2S += 0.5 * (currentA * currentA + lastA * lastA) * (timeS - lastS);
        lastS = timeS;
        lastA = currentA;
    }

    void takeBack() {
        lastS = before[0];
        lastA = before[1];
        lastCyclesDimensionless = before[2];
        startS = before[3];
        sumA2S = before[4];
        rmsA = before[5];
    }

    /** Everything seen happened later by so much. */
    void skip(double byS, double cycles) {
        lastS += byS;
        startS += byS;
        lastCyclesDimensionless += cycles;
        before[0] += byS;
        before[3] += byS;
        before[2] += cycles;
    }

    double rmsA() {
        return rmsA;
    }
}
