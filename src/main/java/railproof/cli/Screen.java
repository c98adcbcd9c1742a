package railproof.cli;

import java.io.BufferedReader;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.util.function.IntConsumer;

/** Where the command line writes: results to one stream, everything else to the other. Thread: any. */
final class Screen {
    private static final int COLUMNS = 96;

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

    /** The same in lines of at most {@value #COLUMNS} columns, broken between words, the later ones set in. */
    void sayWrapped(String text, int indent) {
        String rest = text;
        while (rest.length() > COLUMNS && rest.lastIndexOf(' ', COLUMNS) > indent) {
            int end = rest.lastIndexOf(' ', COLUMNS);
            say(rest.substring(0, end));
            rest = " ".repeat(indent) + rest.substring(end + 1);
        }
        say(rest);
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
