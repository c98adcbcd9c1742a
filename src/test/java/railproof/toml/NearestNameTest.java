package railproof.toml;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class NearestNameTest {
    /**
     * Kitten and sitting are the example of the literature on edit distance (Levenshtein 1966 as commonly told);
     * the others follow from the definition by counting.
     */
    @ParameterizedTest
    @CsvSource({"kitten, sitting, 3", "abc, abc, 0", "abc, acb, 1", "'', abc, 3", "abc, '', 3", "ca, abc, 3"})
    void distanceCountsChangesInsertionsDeletionsAndSwaps(String a, String b, int distance) {
        assertEquals(distance, NearestName.distance(a, b));
        assertEquals(distance, NearestName.distance(b, a));
    }

    @Test
    void findsTheNearestAndIgnoresCase() {
        List<String> keys = List.of("nominal_V", "low_V", "high_V");

        assertEquals(Optional.of("nominal_V"), NearestName.of("nominal_v", keys));
        assertEquals(Optional.of("nominal_V"), NearestName.of("nomnial_V", keys));
        assertEquals(Optional.of("low_V"), NearestName.of("lo_V", keys));
    }

    @Test
    void namesNothingThatIsNotNear() {
        assertEquals(Optional.empty(), NearestName.of("colour", List.of("nominal_V", "low_V")));
        assertEquals(Optional.empty(), NearestName.of("", List.of("a")));
        assertEquals(Optional.empty(), NearestName.of("a".repeat(100_000), List.of("a".repeat(100_000))));
    }
}
