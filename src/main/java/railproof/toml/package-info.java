/**
 * Strict reading of TOML files: typed values with allowed ranges, unknown keys refused, every problem located and all
 * of them collected. Wraps the parser library, so that nothing else sees it.
 *
 * <p>Must not: know what any file means, or let hostile text cause anything but a
 * {@link railproof.base.BadFileException}.
 * Start reading at {@link railproof.toml.TomlDocument}.
 */
@NullMarked
package railproof.toml;

import org.jspecify.annotations.NullMarked;
