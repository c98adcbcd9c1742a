package railproof.base;

import java.util.Optional;

/**
 * What a measurement gave: a {@link Measured} value, or {@link Missing} with the reason. A missing reading is never
 * NaN and can never pass a limit.
 */
public sealed interface Reading permits Measured, Missing {
    /** The value if there is one. */
    default Optional<Measured> measured() {
        return this instanceof Measured m ? Optional.of(m) : Optional.empty();
    }
}
