package railproof.wire;

/** What came out of a decoder at a delimiter: a good {@link Frame}, or {@link Noise}. */
public sealed interface Decoded permits Frame, Noise {}
