package railproof.sim.device;

import java.io.IOException;
import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.locks.LockSupport;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import railproof.base.SystemClock;

/**
 * The converter of an emulated board, and whatever hangs on its outputs: works on the memory that the board shares with
 * this process (README of the firmware, "Bench window"). The board's clock leads: what lies at the terminals is advanced
 * to no instant that the board has not passed, changes of the outputs and scans in the order of their instants. If this
 * process has no time for a while, scans come later but are those of their instants all the same; and the board's clock
 * waits for it if it {@link #pace}s.
 *
 * <p>Thread: one of its own; {@link #atPresent} lets others in.
 */
public final class WindowBench {
    /** Bytes of the window in the shared memory. */
    public static final int SIZE = 16 << 20;

    private static final int MAGIC = 0x31575052;
    private static final int AT_MAGIC = 0x00;
    private static final int AT_STARTS = 0x04;
    private static final int AT_TIME_HIGH = 0x08;
    private static final int AT_TIME_LOW = 0x0C;
    private static final int AT_TIME_AGAIN = 0x10;
    private static final int AT_OUTPUTS = 0x14;
    private static final int AT_JOB = 0x18;
    private static final int AT_PERIOD = 0x1C;
    private static final int AT_MASK = 0x20;
    private static final int AT_START_LOW = 0x24;
    private static final int AT_START_HIGH = 0x28;
    private static final int AT_TAKEN = 0x2C;
    private static final int AT_GIVEN_JOB = 0x30;
    private static final int AT_GIVEN = 0x34;
    private static final int AT_GRANTED = 0x38;
    private static final int AT_PACED = 0x3C;
    private static final int AT_LEVELS = 0x40;
    private static final int AT_OUTPUT = 0x100;
    private static final int OUTPUTS = 256;
    private static final int AT_SCANS = 0x10000;
    private static final int SCANS = 16384;
    private static final int SCAN_BYTES = 2 * AdcChannel.MAX_COUNT;
    private static final long LOOK_NS = 300_000;
    /** So far the board may run ahead of what lies at its terminals: the bench is late with scans by that at most. */
    private static final long AHEAD_OF_BENCH_TICKS = 10_000;
    /**
     * So far it may run ahead of the host's last look at the clock: less than the least time a host waits for an answer
     * (50 ms), more than its longest wait without such a look (20 ms).
     */
    private static final long AHEAD_OF_HOST_TICKS = 40_000;
    /**
     * So far it may run between two reports on the bench line. A report takes the ways of an answer on the host's line:
     * a request that is sent up to three times is given up after 350 ms, which are several such ways.
     */
    private static final long AHEAD_OF_REPORT_TICKS = 40_000;
    /** A report that did not come is asked for again: the board may have restarted. */
    private static final long REPORT_PATIENCE_NS = 2_000_000_000;

    private static final VarHandle WORD = MethodHandles.byteBufferViewVarHandle(int[].class, ByteOrder.LITTLE_ENDIAN);

    private final ByteBuffer memory;
    private final int channels;
    private final AnalogSource source;
    private final FrontEnd front;
    private final BoardOutputs outputs;
    private final int[] codes = new int[AdcChannel.MAX_COUNT];
    private final Thread pump;
    private volatile boolean closed;
    private volatile boolean loadEnabled;
    private volatile int contacts;
    private volatile long offTicks;
    private volatile @Nullable BoardBench reporter;
    private long reportsHeard;
    private long reportNs;
    private long reportAskedNs;
    private volatile long presentNs;
    private volatile long hostNs;
    private final AtomicLong scansGiven = new AtomicLong();
    private int starts = -1;
    private int outputsHeard;
    private long originNs;
    private long reachedTicks;
    private int job;
    private int given;

    /**
     * Puts the window into use.
     *
     * @param file the shared memory
     * @param converters of the inputs, in order
     * @param source what lies at them
     * @param outputs what the board drives
     * @param seed of the converters' noise
     */
    public WindowBench(Path file, List<AdcChannel> converters, AnalogSource source, BoardOutputs outputs, long seed)
            throws IOException {
        try (FileChannel channel = FileChannel.open(file, StandardOpenOption.READ, StandardOpenOption.WRITE)) {
            memory = channel.map(FileChannel.MapMode.READ_WRITE, 0, SIZE).order(ByteOrder.LITTLE_ENDIAN);
        }
        this.channels = converters.size();
        this.source = source;
        this.outputs = outputs;
        this.front = new FrontEnd(converters, source, seed, 0);
        catchUp();
        set(AT_MAGIC, MAGIC);
        pump = new Thread(this::pump, "bench-window");
        pump.setDaemon(true);
        pump.start();
    }

    private int get(int at) {
        return (int) WORD.getAcquire(memory, at);
    }

    private void set(int at, int value) {
        WORD.setRelease(memory, at, value);
    }

    private void pump() {
        while (!closed) {
            catchUp();
            LockSupport.parkNanos(LOOK_NS);
        }
    }

    /** Does something at the board's present instant, with nothing else going on at the terminals. */
    public synchronized void atPresent(Consumer<Long> action) {
        catchUp();
        action.accept(worldNs(reachedTicks));
    }

    /**
     * From now on the board's clock stands still whenever this bench, a host that goes by {@link #present}, or the ways
     * between board and host have no time for it: what happens does not depend on how busy the computer is.
     *
     * @param line the board's bench line, whose answers show that the ways are open
     */
    public synchronized void pace(BoardBench line) {
        hostNs = presentNs;
        reportNs = presentNs;
        reportsHeard = line.reports();
        askReport(line);
        reporter = line;
    }

    private void askReport(BoardBench line) {
        reportAskedNs = SystemClock.INSTANCE.nowNs();
        line.askReport();
    }

    /** Grants the board's clock what all that it has to wait for allow. */
    private void grant(BoardBench line) {
        if (line.reports() != reportsHeard) {
            reportsHeard = line.reports();
            reportNs = presentNs;
            askReport(line);
        } else if (SystemClock.INSTANCE.nowNs() - reportAskedNs > REPORT_PATIENCE_NS) {
            askReport(line);
        }
        long byHostTicks = (hostNs - originNs) / 1000 + AHEAD_OF_HOST_TICKS;
        long byReportTicks = (reportNs - originNs) / 1000 + AHEAD_OF_REPORT_TICKS;
        set(AT_GRANTED, (int) Math.min(reachedTicks + AHEAD_OF_BENCH_TICKS, Math.min(byHostTicks, byReportTicks)));
        set(AT_PACED, 1);
    }

    /** The board's present instant as a host's clock, ns; counted on over restarts. Each look is a sign of life. */
    public long present() {
        long nowNs = presentNs;
        hostNs = nowNs;
        return nowNs;
    }

    /** Load-enable as it was last heard of. */
    public boolean loadEnabled() {
        return loadEnabled;
    }

    /** Contacts as they were last heard of. */
    public int contacts() {
        return contacts;
    }

    /** When the outputs last went off altogether, by the device's clock, ticks; counted on over restarts. */
    public long offTicks() {
        return offTicks;
    }

    /** Scans given so far. */
    public long scansGiven() {
        return scansGiven.get();
    }

    /** The device's time as last published, ticks. */
    private long ticks() {
        while (true) {
            int high = get(AT_TIME_AGAIN);
            int low = get(AT_TIME_LOW);
            if (get(AT_TIME_HIGH) == high) {
                return Integer.toUnsignedLong(high) << 32 | Integer.toUnsignedLong(low);
            }
        }
    }

    private synchronized void catchUp() {
        int seen = get(AT_STARTS);
        if (seen != starts) {
            starts = seen;
            originNs += reachedTicks * 1000;
            reachedTicks = 0;
            outputsHeard = 0;
        }
        long nowTicks = ticks();
        while (outputsHeard != get(AT_OUTPUTS)) {
            int at = AT_OUTPUT + Integer.remainderUnsigned(outputsHeard, OUTPUTS) * 16;
            long changeTicks = Integer.toUnsignedLong(get(at + 4)) << 32 | Integer.toUnsignedLong(get(at));
            if (changeTicks > nowTicks) {
                break;
            }
            reach(changeTicks);
            contacts = get(at + 8);
            loadEnabled = get(at + 12) != 0;
            if (contacts == 0 && !loadEnabled) {
                offTicks = worldNs(changeTicks) / 1000;
            }
            outputs.relays(contacts);
            outputs.loadEnable(loadEnabled);
            outputsHeard++;
        }
        if (get(AT_STARTS) == starts) { // what was read above may belong to the start after it
            reach(nowTicks);
        }
        presentNs = worldNs(reachedTicks);
        BoardBench line = reporter;
        if (line != null) {
            grant(line);
        }
        for (int channel = 0; channel < channels; channel++) {
            memory.putShort(AT_LEVELS + 2 * channel, (short) front.watch(channel));
        }
    }

    private void reach(long untilTicks) {
        if (untilTicks < reachedTicks) {
            return;
        }
        giveScans(untilTicks);
        source.advanceTo(worldNs(untilTicks) * 1e-9);
        reachedTicks = untilTicks;
    }

    /** Gives the scans whose instants lie up to an instant, as far as the queue has room. */
    private void giveScans(long untilTicks) {
        int wanted = get(AT_JOB);
        if ((wanted & 1) == 0) {
            return;
        }
        long periodTicks = Integer.toUnsignedLong(get(AT_PERIOD));
        int mask = get(AT_MASK);
        long startTicks = Integer.toUnsignedLong(get(AT_START_HIGH)) << 32 | Integer.toUnsignedLong(get(AT_START_LOW));
        if (get(AT_JOB) != wanted) {
            return; // it changed while it was read; the next look sees it whole
        }
        if (wanted != job) {
            job = wanted;
            given = 0;
            set(AT_GIVEN, 0);
            set(AT_GIVEN_JOB, job);
        }
        long instant = startTicks + given * periodTicks;
        while (instant <= untilTicks && given - get(AT_TAKEN) < SCANS && get(AT_JOB) == job) {
            front.sample(worldNs(instant), mask, codes);
            int place = AT_SCANS + given % SCANS * SCAN_BYTES;
            for (int channel = 0; channel < channels; channel++) {
                memory.putShort(place + 2 * channel, (short) codes[channel]);
            }
            given++;
            scansGiven.incrementAndGet();
            set(AT_GIVEN, given);
            instant += periodTicks;
        }
    }

    private long worldNs(long ticks) {
        return originNs + ticks * 1000;
    }

    /** Takes the window out of use. */
    public void close() throws InterruptedException {
        closed = true;
        pump.join();
        set(AT_MAGIC, 0);
    }
}
