/**
 * What a supply type should do: rails, ratings, limits, test plan. Parsed from TOML, range-checked, hashed.
 *
 * <p>Must not: know rigs, instruments or measured values.
 * Start reading at {@link railproof.profile.Profile}.
 */
@NullMarked
package railproof.profile;

import org.jspecify.annotations.NullMarked;
