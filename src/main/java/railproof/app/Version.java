package railproof.app;

/** Version of this program, from the jar's manifest. */
public final class Version {
    private Version() {}

    /** The version, or {@code development} when run from unpacked classes. */
    public static String text() {
        String version = Version.class.getPackage().getImplementationVersion();
        return version == null ? "development" : version;
    }
}
