package railproof.sim.supply;

/**
 * Temperature laws of a silicon junction, as the circuit simulators of the Berkeley family use them: energy gap
 * 1.11 eV, saturation current exponent 3, nominal temperature 27 °C.
 */
final class Semiconductor {
    static final double NOMINAL_C = 27;
    /** Conductance across every junction that keeps the equations solvable when all is off, S as in 1/Ω. */
    static final double LEAK_PER_OHM = 1e-12;

    private static final double ZERO_C_IN_K = 273.15;
    private static final double BOLTZMANN_V_PER_K = 1.38064852e-23 / 1.6021766208e-19;
    private static final double GAP_V = 1.11;
    private static final double SATURATION_EXPONENT_DIMENSIONLESS = 3;
    /** More than any tolerance. */
    static final double CUT_SHORT_DIMENSIONLESS = 1e9;

    /** Above this many thermal voltages the exponential goes on as a straight line, so that it cannot overflow. */
    private static final double EXP_CEILING_DIMENSIONLESS = 80;

    private Semiconductor() {}

    static double thermalV(double temperatureC) {
        return BOLTZMANN_V_PER_K * (temperatureC + ZERO_C_IN_K);
    }

    /** Factor on the saturation current at a temperature, for an emission coefficient. */
    static double saturationRatio(double temperatureC, double emissionDimensionless) {
        double ratio = (temperatureC + ZERO_C_IN_K) / (NOMINAL_C + ZERO_C_IN_K);
        return Math.exp((ratio - 1) * GAP_V / (emissionDimensionless * thermalV(temperatureC)))
                * Math.pow(ratio, SATURATION_EXPONENT_DIMENSIONLESS / emissionDimensionless);
    }

    /** Exponential with a straight continuation above the ceiling. */
    static double exp(double xDimensionless) {
        if (xDimensionless > EXP_CEILING_DIMENSIONLESS) {
            return Math.exp(EXP_CEILING_DIMENSIONLESS) * (1 + xDimensionless - EXP_CEILING_DIMENSIONLESS);
        }
        return xDimensionless < -EXP_CEILING_DIMENSIONLESS ? 0 : Math.exp(xDimensionless);
    }

    /**
     * What a straight line misses of an exponential after {@code x}, as a share of the exponential's start:
     * {@code exp(x) - 1 - x}.
     */
    static double missed(double xDimensionless) {
        return Math.abs(xDimensionless) < 0.1
                ? 0.52 * xDimensionless * xDimensionless
                : exp(xDimensionless) - 1 - xDimensionless;
    }

    /**
     * Limits the Newton step of a junction voltage to what the exponential allows (the classic junction limiting of
     * nodal circuit simulators): above the critical voltage the step is taken in the logarithm of the current.
     *
     * @return the voltage to use, V
     */
    static double limited(double nextV, double beforeV, double thermalV, double criticalV) {
        if (nextV <= criticalV || Math.abs(nextV - beforeV) <= 2 * thermalV) {
            return nextV;
        }
        if (beforeV > 0) {
            double stepDimensionless = 1 + (nextV - beforeV) / thermalV;
            return stepDimensionless > 0 ? beforeV + thermalV * Math.log(stepDimensionless) : criticalV;
        }
        return thermalV * Math.log(nextV / thermalV);
    }
}
