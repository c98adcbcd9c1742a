package railproof.judge;

import java.time.Instant;
import java.util.List;

/**
 * Somebody puts their name to a run: the unit may ship.
 *
 * @param by who; not empty
 * @param checked what they checked themselves, in their words
 * @param at wall time
 * @param reason why a conditional verdict is accepted; empty if there is none to accept
 * @param training whether it is an exercise on a simulated run and says nothing of a real unit
 * @param verdict the verdict it rests on
 */
public record SignOff(String by, List<String> checked, Instant at, String reason, boolean training, Verdict verdict) {
    public SignOff {
        checked = List.copyOf(checked);
    }
}
