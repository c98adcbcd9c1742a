package railproof;

/** Starts the program. The only place that ends the process. */
public final class Main {
    private Main() {}

    /** Runs the command line. */
    public static void main(String[] args) {
        System.exit(0);
    }
}
