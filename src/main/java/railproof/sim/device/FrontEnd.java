package railproof.sim.device;

import java.util.Arrays;
import java.util.List;
import java.util.OptionalInt;
import java.util.Random;

/**
 * Filters and converters of the simulated board. The one-pole filter is integrated exactly for an input that is
 * straight between two steps; the steps are half the shortest time constant in force, or half of what the source says
 * runs straight, and begin eight longest time constants before a sample, because what was earlier has decayed to
 * 3·10⁻⁴.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class FrontEnd {
    private static final int MAX_STEPS = 64;

    private final List<AdcChannel> channels;
    private final AnalogSource source;
    private final long originNs;
    private final Random noise;
    private final Random limitNoise;
    /** Time constant of each channel's filter, s; 0 for none. */
    private final double[] tauS;

    private final ConverterFault[] faults;
    private final OptionalInt[] stuckCodes;
    private final double[] inputV;
    private final double[] filteredV;
    private double filteredS = Double.NEGATIVE_INFINITY;
    private double sourceS;
    /** Channels whose filters have been followed since the last beginning. */
    private int followed;

    FrontEnd(List<AdcChannel> channels, AnalogSource source, long seed, long originNs) {
        this.originNs = originNs;
        this.channels = channels;
        this.source = source;
        this.noise = new Random(seed);
        this.limitNoise = new Random(~seed);
        this.tauS = channels.stream()
                .mapToDouble(c -> c.antiAliasHz() > 0 ? 1 / (2 * Math.PI * c.antiAliasHz()) : 0)
                .toArray();
        this.faults = new ConverterFault[channels.size()];
        this.stuckCodes = new OptionalInt[channels.size()];
        Arrays.fill(faults, new ConverterFault.None());
        Arrays.fill(stuckCodes, OptionalInt.empty());
        this.inputV = new double[channels.size()];
        this.filteredV = new double[channels.size()];
    }

    /** Whether the inputs repeat themselves. */
    boolean repeating() {
        return source.repeating();
    }

    /** Brings the world to an instant, ns of the link's clock. */
    void advanceTo(long nowNs) {
        reach(seconds(nowNs));
    }

    private double seconds(long nowNs) {
        return (nowNs - originNs) * 1e-9;
    }

    private void reach(double timeS) {
        if (timeS > sourceS) {
            source.advanceTo(timeS);
            sourceS = timeS;
        }
    }

    /** Samples the channels of {@code mask} at an instant, into {@code codes} by channel index. */
    void sample(long nowNs, int mask, int[] codes) {
        filter(seconds(nowNs), mask);
        for (int c = 0; c < channels.size(); c++) {
            if ((mask >> c & 1) != 0) {
                AdcChannel channel = channels.get(c);
                codes[c] = code(c, filteredV[c], noise.nextGaussian() * channel.noiseRmsV());
            }
        }
    }

    /** What the limit watch sees now: unfiltered, with noise of its own. */
    int watch(int channel) {
        AdcChannel c = channels.get(channel);
        return code(channel, source.voltageV(channel), limitNoise.nextGaussian() * c.noiseRmsV());
    }

    /** Breaks an input, or mends it. */
    void fault(int channel, ConverterFault fault) {
        faults[channel] = fault;
        stuckCodes[channel] = OptionalInt.empty();
    }

    private int code(int c, double seenV, double noiseV) {
        AdcChannel channel = channels.get(c);
        ConverterFault fault = faults[c];
        if (fault instanceof ConverterFault.Stuck) {
            if (stuckCodes[c].isEmpty()) {
                stuckCodes[c] = OptionalInt.of(channel.code(seenV, noiseV));
            }
            return stuckCodes[c].getAsInt();
        }
        if (fault instanceof ConverterFault.Rail rail) {
            double beyondV = channel.highV() - channel.lowV();
            return channel.code(rail.high() ? channel.highV() + beyondV : channel.lowV() - beyondV, 0);
        }
        return channel.code(fault instanceof ConverterFault.Offset offset ? seenV + offset.offsetV() : seenV, noiseV);
    }

    private void filter(double timeS, int mask) {
        double longestS = 0;
        double shortestS = Double.POSITIVE_INFINITY;
        for (int c = 0; c < tauS.length; c++) {
            if ((mask >> c & 1) != 0 && tauS[c] > 0) {
                longestS = Math.max(longestS, tauS[c]);
                shortestS = Math.min(shortestS, tauS[c]);
            }
        }
        double fromS = filteredS;
        if (longestS == 0 || fromS < timeS - 8 * longestS) {
            fromS = longestS == 0 ? timeS : Math.max(sourceS, timeS - 8 * longestS);
            followed = mask;
            begin(fromS);
        } else if ((mask & ~followed) != 0) {
            follow(mask & ~followed);
        }
        double gapS = timeS - fromS;
        int steps = gapS <= 0
                ? 0
                : (int) Math.min(MAX_STEPS, Math.ceil(gapS / (Math.max(shortestS, source.straightS()) / 2)));
        for (int k = 1; k <= steps; k++) {
            step(k == steps ? timeS : fromS + gapS * k / steps);
        }
    }

    private void begin(double timeS) {
        reach(timeS);
        follow(followed);
        filteredS = timeS;
    }

    private void follow(int mask) {
        followed |= mask;
        for (int c = 0; c < inputV.length; c++) {
            if ((mask >> c & 1) != 0) {
                inputV[c] = source.voltageV(c);
                filteredV[c] = inputV[c];
            }
        }
    }

    private void step(double timeS) {
        reach(timeS);
        double stepS = timeS - filteredS;
        if (stepS <= 0) {
            return;
        }
        for (int c = 0; c < inputV.length; c++) {
            if ((followed >> c & 1) == 0) {
                continue;
            }
            double nextV = source.voltageV(c);
            if (tauS[c] > 0) {
                double lagV = (nextV - inputV[c]) / stepS * tauS[c];
                filteredV[c] = nextV - lagV + (filteredV[c] - inputV[c] + lagV) * Math.exp(-stepS / tauS[c]);
            } else {
                filteredV[c] = nextV;
            }
            inputV[c] = nextV;
        }
        filteredS = timeS;
    }
}
