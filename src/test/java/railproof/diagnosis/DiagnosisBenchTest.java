package railproof.diagnosis;

import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** How long a ranked list takes: from a cached fault dictionary, next probes included; and how long making one takes. */
@Tag("bench")
final class DiagnosisBenchTest {
    private static final int TIMES = 20;

    private static double seconds(Runnable work) {
        long start = System.nanoTime();
        work.run();
        return (System.nanoTime() - start) / 1e9;
    }

    @Test
    void rankedListFromTheCache() {
        double made = seconds(() ->
                DictionaryMaker.make(Bench12V.loadedRail(), Bench12V.profile().line()));
        Bench12V.dictionary();
        for (Set<ProbeNode> nodes : List.<Set<ProbeNode>>of(
                EnumSet.of(ProbeNode.OUTPUT),
                EnumSet.of(ProbeNode.OUTPUT, ProbeNode.RAW),
                EnumSet.allOf(ProbeNode.class))) {
            Readings readings = Bench12V.outside("reference zener open", nodes);
            double first = seconds(() -> Diagnosis.of(Bench12V.dictionary(), Priors.usual(), readings));
            double all = seconds(() -> {
                for (int i = 0; i < TIMES; i++) {
                    Diagnosis.of(Bench12V.dictionary(), Priors.usual(), readings);
                }
            });
            System.getLogger("bench")
                    .log(
                            System.Logger.Level.INFO,
                            String.format(
                                    Locale.ROOT,
                                    "%d readings: first ranked list %.3f s, then %.3f s each, dictionary from its file each"
                                            + " time; making the dictionary %.1f s",
                                    readings.values().size(),
                                    first,
                                    all / TIMES,
                                    made));
        }
    }
}
