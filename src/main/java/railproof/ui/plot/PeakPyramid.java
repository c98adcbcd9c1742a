package railproof.ui.plot;

import java.util.Arrays;

/**
 * Lowest and highest sample of every block of 2, 4, 8 … blocks, so that the extremes of any stretch of a capture are
 * found in logarithmic time: a picture column shows its true peaks without every sample being read again.
 *
 * <p>Samples can be appended; the pyramid grows with them. Extremes are exact, whatever the stretch.
 *
 * <p>Thread: confined to one.
 */
public final class PeakPyramid {
    /** Samples in a block of the lowest level: below this, reading samples is as quick as reading blocks. */
    private static final int BLOCK = 64;

    /** Samples in a page, a whole number of blocks: a capture grows page by page, what it holds is never copied again. */
    private static final int PAGE = 256 * BLOCK;

    private double[][] pages = {};
    private int size;
    private double[][] lows = {};
    private double[][] highs = {};

    /** A pyramid over a copy of the samples. */
    public static PeakPyramid of(double... samples) {
        PeakPyramid pyramid = new PeakPyramid();
        pyramid.append(samples, samples.length);
        return pyramid;
    }

    /** How many samples there are. */
    public int size() {
        return size;
    }

    /**
     * One sample.
     *
     * @param index 0 to size − 1
     */
    public double sample(int index) {
        return pages[index / PAGE][index % PAGE];
    }

    /**
     * Appends the first samples of an array.
     *
     * @param count how many of them
     */
    public void append(double[] more, int count) {
        int firstBlock = size / BLOCK;
        for (int taken = 0; taken < count; ) {
            int within = Math.min(count - taken, PAGE - size % PAGE);
            System.arraycopy(more, taken, page(size / PAGE), size % PAGE, within);
            taken += within;
            size += within;
        }
        rebuildFrom(firstBlock);
    }

    private double[] page(int index) {
        if (index == pages.length) {
            pages = Arrays.copyOf(pages, index + 1);
            pages[index] = new double[PAGE];
        }
        return pages[index];
    }

    /** Recomputes all blocks from one of the lowest level on. */
    private void rebuildFrom(int firstBlock) {
        int blocks = (size + BLOCK - 1) / BLOCK;
        int level = 0;
        int from = firstBlock;
        while (blocks > 0) {
            room(level, blocks);
            for (int block = from; block < blocks; block++) {
                if (level == 0) {
                    ofSamples(block);
                } else {
                    ofBlocks(level, block);
                }
            }
            if (blocks == 1) {
                return;
            }
            blocks = (blocks + 1) / 2;
            from /= 2;
            level++;
        }
    }

    private void room(int level, int blocks) {
        if (level == lows.length) {
            lows = Arrays.copyOf(lows, level + 1);
            highs = Arrays.copyOf(highs, level + 1);
            lows[level] = new double[blocks];
            highs[level] = new double[blocks];
        } else if (blocks > lows[level].length) {
            int length = Math.max(blocks, 2 * lows[level].length);
            lows[level] = Arrays.copyOf(lows[level], length);
            highs[level] = Arrays.copyOf(highs[level], length);
        }
    }

    private void ofSamples(int block) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        int first = block * BLOCK;
        double[] page = pages[first / PAGE];
        int inPage = first % PAGE;
        for (int i = inPage; i < inPage + Math.min(BLOCK, size - first); i++) {
            low = Math.min(low, page[i]);
            high = Math.max(high, page[i]);
        }
        lows[0][block] = low;
        highs[0][block] = high;
    }

    private void ofBlocks(int level, int block) {
        int left = 2 * block;
        int right = left + 1;
        boolean both = right < blocksAt(level - 1);
        lows[level][block] = both ? Math.min(lows[level - 1][left], lows[level - 1][right]) : lows[level - 1][left];
        highs[level][block] = both ? Math.max(highs[level - 1][left], highs[level - 1][right]) : highs[level - 1][left];
    }

    private int blocksAt(int level) {
        int blocks = (size + BLOCK - 1) / BLOCK;
        for (int i = 0; i < level; i++) {
            blocks = (blocks + 1) / 2;
        }
        return blocks;
    }

    /**
     * The extremes of a stretch.
     *
     * @param from first sample, 0 or more
     * @param to sample after the last, at most the size, above {@code from}
     * @param extremes takes the lowest at 0 and the highest at 1
     */
    public void extremes(int from, int to, double[] extremes) {
        if (from < 0 || to > size || from >= to) {
            throw new IllegalArgumentException("no stretch from " + from + " to " + to + " in " + size + " samples");
        }
        extremes[0] = Double.POSITIVE_INFINITY;
        extremes[1] = Double.NEGATIVE_INFINITY;
        int i = from;
        while (i < to && (i % BLOCK != 0 || i + BLOCK > to)) {
            take(extremes, sample(i), sample(i));
            i++;
        }
        while (i + BLOCK <= to) {
            int level = 0;
            int span = BLOCK;
            while (level + 1 < lows.length && i % (2 * span) == 0 && i + 2 * span <= to) {
                span *= 2;
                level++;
            }
            take(extremes, lows[level][i / span], highs[level][i / span]);
            i += span;
        }
        for (; i < to; i++) {
            take(extremes, sample(i), sample(i));
        }
    }

    private static void take(double[] extremes, double low, double high) {
        extremes[0] = Math.min(extremes[0], low);
        extremes[1] = Math.max(extremes[1], high);
    }
}
