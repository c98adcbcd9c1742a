package railproof.run;

/** How sure it is that load and unit are off at the end of a run. */
public enum SafeState {
    /** Commanded, and read back as off from the devices. */
    CONFIRMED,
    /** Commanded and accepted by the host's ports, but nothing could be read back. */
    COMMANDED,
    /** Not even the command is known to have left. Pull the plug. */
    UNKNOWN
}
