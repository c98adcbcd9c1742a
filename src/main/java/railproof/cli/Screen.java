package railproof.cli;

import java.io.BufferedReader;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.function.IntConsumer;

/** Where the command line writes: results to one stream, everything else to the other. Thread: any. */
final class Screen {
    private final PrintWriter out;
    private final PrintWriter err;
    private final BufferedReader in;
    private volatile IntConsumer halt = status -> {};

    Screen(PrintWriter out, PrintWriter err, InputStream in) {
        this.out = out;
        this.err = err;
        this.in = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
    }

    PrintWriter out() {
        return out;
    }

    PrintWriter err() {
        return err;
    }

    BufferedReader in() {
        return in;
    }

    /** A result line. */
    void print(String line) {
        out.println(line);
    }

    /** A line that is not a result. */
    void say(String line) {
        err.println(line);
    }

    void flush() {
        out.flush();
        err.flush();
    }

    void onInterruptedExit(IntConsumer action) {
        halt = action;
    }

    IntConsumer halt() {
        return halt;
    }
}
