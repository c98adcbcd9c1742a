package railproof.toml;

import java.util.Collection;
import java.util.Locale;
import java.util.Optional;

/**
 * Finds the name that was probably meant when another was written.
 *
 * <p>Thread: pure; any thread.
 */
public final class NearestName {
    private static final int LONGEST = 64;

    private NearestName() {}

    /**
     * The candidate nearest to what was written, by the number of letters changed, put in, left out or swapped with
     * their neighbour; upper and lower case count as equal.
     *
     * @param written what the file says
     * @param candidates what would have been right
     * @return empty if nothing is near: more than a third of the letters (at least one) would have to change
     */
    public static Optional<String> of(String written, Collection<String> candidates) {
        if (written.isEmpty() || written.length() > LONGEST) {
            return Optional.empty();
        }
        int best = Math.max(1, written.length() / 3) + 1;
        String nearest = "";
        for (String candidate : candidates) {
            if (candidate.length() <= LONGEST) {
                int distance = distance(written.toLowerCase(Locale.ROOT), candidate.toLowerCase(Locale.ROOT));
                if (distance < best) {
                    best = distance;
                    nearest = candidate;
                }
            }
        }
        return nearest.isEmpty() ? Optional.empty() : Optional.of(nearest);
    }

    /** A half sentence for the end of a message: {@code ; did you mean "x"?}, or nothing. */
    static String hint(String written, Collection<String> candidates) {
        return of(written, candidates)
                .map(name -> "; did you mean \"" + name + "\"?")
                .orElse("");
    }

    /** Optimal string alignment distance: Levenshtein's with swaps of neighbours. */
    static int distance(String a, String b) {
        int[][] cost = new int[a.length() + 1][b.length() + 1];
        for (int i = 0; i <= a.length(); i++) {
            for (int j = 0; j <= b.length(); j++) {
                cost[i][j] = i == 0 ? j : j == 0 ? i : cheapest(a, b, i, j, cost);
            }
        }
        return cost[a.length()][b.length()];
    }

    private static int cheapest(String a, String b, int i, int j, int[][] cost) {
        int change = a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1;
        int least = Math.min(cost[i - 1][j - 1] + change, 1 + Math.min(cost[i - 1][j], cost[i][j - 1]));
        boolean swapped = i > 1 && j > 1 && a.charAt(i - 1) == b.charAt(j - 2) && a.charAt(i - 2) == b.charAt(j - 1);
        return swapped ? Math.min(least, cost[i - 2][j - 2] + 1) : least;
    }
}
