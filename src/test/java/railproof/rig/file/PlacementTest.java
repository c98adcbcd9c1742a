package railproof.rig.file;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.api.Test;
import railproof.profile.Profile;

class PlacementTest {
    @Test
    void railTakesTheFirstPositionThatHoldsIt() {
        assertEquals(List.of("1"), seats("counter-5v"));
    }

    private static List<String> seats(String profileName) {
        RigConfig rig = BuiltInFiles.rig("simulated-bench").config();
        Profile profile = BuiltInFiles.profile(profileName).profile();
        Placement placement = Placement.of(rig, profile);
        assertEquals(List.of(), placement.problems());
        return placement.seats().stream().map(seat -> seat.position().name()).toList();
    }
}
