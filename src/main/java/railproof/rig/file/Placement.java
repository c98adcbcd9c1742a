package railproof.rig.file;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;
import railproof.base.Problem;
import railproof.profile.Profile;
import railproof.profile.Rail;

/**
 * Which rail of a unit goes to which position of a bench, and why not, if it cannot.
 *
 * <p>Thread: immutable; {@link #of} is pure.
 *
 * @param seats one per rail, in the profile's order; empty if there is any problem
 * @param problems everything that stands against it, in words; empty if the bench takes the unit
 */
public record Placement(List<Seat> seats, List<Problem> problems) {
    /**
     * A rail at its position.
     *
     * @param rail the rail
     * @param position where it is connected
     */
    public record Seat(Rail rail, PositionConfig position) {}

    public Placement {
        seats = List.copyOf(seats);
        problems = List.copyOf(problems);
    }

    /** Whether the bench takes the unit. */
    public boolean possible() {
        return problems.isEmpty();
    }

    /**
     * Finds a position for every rail. A rail takes the first position that can hold it, in the rig file's order,
     * unless that would leave another rail without one.
     *
     * @param rig the bench
     * @param profile the type of unit
     */
    public static Placement of(RigConfig rig, Profile profile) {
        BenchFit fit = new BenchFit(rig, profile);
        List<Problem> problems = new ArrayList<>(fit.wholeUnit());
        int[] positionOf = seat(fit, rig.positions(), profile.rails());
        for (int rail = 0; rail < positionOf.length; rail++) {
            if (positionOf[rail] < 0) {
                problems.add(whyNot(fit, rig, profile, rail));
            }
        }
        if (!problems.isEmpty()) {
            return new Placement(List.of(), problems);
        }
        List<Seat> seats = new ArrayList<>();
        for (int rail = 0; rail < positionOf.length; rail++) {
            seats.add(new Seat(profile.rails().get(rail), rig.positions().get(positionOf[rail])));
        }
        return new Placement(seats, List.of());
    }

    /**
     * Bipartite matching by augmenting paths: as many rails as possible get a position.
     *
     * @return the position of each rail, -1 for none
     */
    private static int[] seat(BenchFit fit, List<PositionConfig> positions, List<Rail> rails) {
        boolean[][] fits = new boolean[rails.size()][positions.size()];
        for (int rail = 0; rail < rails.size(); rail++) {
            for (int position = 0; position < positions.size(); position++) {
                fits[rail][position] =
                        fit.against(rails.get(rail), positions.get(position)).isEmpty();
            }
        }
        int[] railAt = new int[positions.size()];
        Arrays.fill(railAt, -1);
        for (int rail = 0; rail < rails.size(); rail++) {
            augment(fits, rail, railAt, new boolean[positions.size()]);
        }
        int[] positionOf = new int[rails.size()];
        Arrays.fill(positionOf, -1);
        for (int position = 0; position < railAt.length; position++) {
            if (railAt[position] >= 0) {
                positionOf[railAt[position]] = position;
            }
        }
        return positionOf;
    }

    private static boolean augment(boolean[][] fits, int rail, int[] railAt, boolean[] tried) {
        for (int position = 0; position < railAt.length; position++) {
            if (fits[rail][position] && railAt[position] < 0) {
                railAt[position] = rail;
                return true;
            }
        }
        for (int position = 0; position < railAt.length; position++) {
            if (fits[rail][position] && !tried[position]) {
                tried[position] = true;
                if (augment(fits, railAt[position], railAt, tried)) {
                    railAt[position] = rail;
                    return true;
                }
            }
        }
        return false;
    }

    private static Problem whyNot(BenchFit fit, RigConfig rig, Profile profile, int index) {
        Rail rail = profile.rails().get(index);
        List<List<String>> objections = rig.positions().stream()
                .map(position -> fit.against(rail, position))
                .toList();
        if (objections.stream().anyMatch(List::isEmpty)) {
            return fit.problem(
                    railKey(index, rail),
                    "too few positions: every one that could take this rail is needed for another; the bench has "
                            + rig.positions().size() + ", the unit "
                            + profile.rails().size() + " rails");
        }
        int nearest = IntStream.range(0, objections.size())
                .boxed()
                .min(Comparator.comparingInt(
                        position -> objections.get(position).size()))
                .orElseThrow();
        return fit.problem(
                railKey(index, rail),
                "no position can take this rail; nearest is position \""
                        + rig.positions().get(nearest).name() + "\", but "
                        + String.join("; ", objections.get(nearest)));
    }

    private static String railKey(int index, Rail rail) {
        return "rails[" + (index + 1) + "] (" + rail.name() + ")";
    }
}
