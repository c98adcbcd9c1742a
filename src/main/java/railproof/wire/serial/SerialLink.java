package railproof.wire.serial;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.time.Duration;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.locks.ReentrantLock;
import railproof.base.Clock;
import railproof.wire.ByteQueue;
import railproof.wire.ExitActions;
import railproof.wire.Link;
import railproof.wire.LinkDownException;
import railproof.wire.LinkException;

/**
 * A serial port. One thread reads it into a bounded queue, one writes it; the library's listeners and streams are not
 * used, because they hide errors (an unplugged port looks like end of file or like a time-out, and its
 * disconnect listener spins). Deadlines are kept here, in real time: the port's own read time-out has steps of
 * 100 ms and only paces the reader thread.
 *
 * <p>A link that went down stays down. To come back, open a new one: the path is resolved anew, so that a port that was
 * plugged in again under another number is found.
 *
 * <p>Thread: as {@link Link}. The clock must be one of real time.
 */
public final class SerialLink implements Link {
    private static final ExitActions EXIT = new ExitActions(SerialPort::addShutdownHook, Duration.ofSeconds(2));
    private static final int QUEUE_BYTES = 1 << 20;
    private static final int READ_BYTES = 8192;
    private static final long WRITE_MS = 1000;
    private static final long EMERGENCY_MS = 100;

    private final String name;
    private final Clock clock;
    private final SerialPort port;
    private final PortWriter writer;
    private final Thread reader;
    private final ByteQueue inbox = new ByteQueue(QUEUE_BYTES);
    private final ReentrantLock writing = new ReentrantLock();
    private final AtomicBoolean closed = new AtomicBoolean();
    private volatile String down = "";

    private SerialLink(String name, Clock clock, SerialPort port) {
        this.name = name;
        this.clock = clock;
        this.port = port;
        writer = new PortWriter(name, port);
        reader = new Thread(this::readLoop, "link-" + name + "-reader");
        reader.setDaemon(true);
        reader.start();
    }

    /**
     * Opens the port, alone.
     *
     * @throws LinkDownException if there is no such port, somebody else has it, or it may not be opened; says which
     */
    public static SerialLink open(String name, SerialSettings settings, Clock clock) throws LinkException {
        SerialPorts.prepareLibrary();
        String path = SerialPorts.resolve(name, settings.port());
        synchronized (SerialPorts.TURN) {
            SerialPort port = portAt(name, path);
            configure(port, settings);
            if (!port.openPort(0)) {
                // only now does the code mean anything: after a success it holds an older one
                throw new LinkDownException(name, "cannot open " + path + ": " + reason(port.getLastErrorCode()));
            }
            return new SerialLink(name, clock, port);
        }
    }

    private static SerialPort portAt(String name, String path) throws LinkDownException {
        try {
            return SerialPort.getCommPort(path);
        } catch (SerialPortInvalidPortException e) {
            throw new LinkDownException(name, "there is no serial port " + path, e);
        }
    }

    /** Everything before opening: set on an open port, each of these configures it all over again. */
    private static void configure(SerialPort port, SerialSettings settings) {
        port.setComPortParameters(
                settings.baud(),
                settings.dataBits(),
                settings.stopBits() == 1 ? SerialPort.ONE_STOP_BIT : SerialPort.TWO_STOP_BITS,
                parity(settings.parity()));
        port.setFlowControl(flow(settings.flow()));
        port.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, 100, 0);
        if (settings.raiseDtrRts()) {
            port.setDTR();
            port.setRTS();
        } else {
            port.clearDTR();
            port.clearRTS();
        }
        port.flushIOBuffers();
    }

    private static int parity(SerialSettings.Parity parity) {
        return switch (parity) {
            case NONE -> SerialPort.NO_PARITY;
            case EVEN -> SerialPort.EVEN_PARITY;
            case ODD -> SerialPort.ODD_PARITY;
        };
    }

    private static int flow(SerialSettings.Flow flow) {
        return switch (flow) {
            case NONE -> SerialPort.FLOW_CONTROL_DISABLED;
            case RTS_CTS -> SerialPort.FLOW_CONTROL_RTS_ENABLED | SerialPort.FLOW_CONTROL_CTS_ENABLED;
            case XON_XOFF -> SerialPort.FLOW_CONTROL_XONXOFF_IN_ENABLED | SerialPort.FLOW_CONTROL_XONXOFF_OUT_ENABLED;
        };
    }

    /** What an error number of the system (errno on Linux and macOS) means to a technician. */
    static String reason(int code) {
        return switch (code) {
            case 2 -> "it is not there, or this program has it open already";
            case 5 -> "it does not answer (input/output error); unplug it and plug it in again";
            case 6, 19 -> "the device is not there any more";
            case 11 -> "another program has it open";
            case 13 -> "no permission; on Linux, the user must be in the group that owns the port (often dialout)";
            case 16 -> "it is busy";
            default -> "error number " + code;
        };
    }

    private void readLoop() {
        byte[] buffer = new byte[READ_BYTES];
        while (!closed.get()) {
            int count = port.readBytes(buffer, buffer.length);
            if (count < 0) {
                // also after a hang-up, where the library goes on saying that the port is open
                fail("the port is gone (unplugged?)");
                return;
            }
            if (count > 0) {
                inbox.put(buffer, count);
            }
        }
    }

    private void fail(String trouble) {
        synchronized (inbox) {
            if (down.isEmpty()) {
                down = trouble; // the first cause stays
            }
        }
        inbox.end();
    }

    private void requireUp() throws LinkDownException {
        String trouble = down;
        if (!trouble.isEmpty()) {
            throw new LinkDownException(name, trouble);
        }
    }

    @Override
    public String name() {
        return name;
    }

    @Override
    public Clock clock() {
        return clock;
    }

    @Override
    public void write(byte[] bytes) throws LinkException {
        writing.lock();
        try {
            requireUp();
            PortWriter.Job job = new PortWriter.Job(bytes);
            if (!writer.submit(job) || !job.await(WRITE_MS)) {
                fail("the device did not take " + bytes.length + " bytes within " + WRITE_MS + " ms; port closed");
                close(); // the only thing that frees a blocked writer
                requireUp();
            }
            if (!job.complete()) {
                fail("the port took only " + Math.max(0, job.written()) + " of " + bytes.length
                        + " bytes (unplugged?)");
                requireUp();
            }
        } finally {
            writing.unlock();
        }
    }

    @Override
    public int read(byte[] into, long timeoutNs) throws LinkException, InterruptedException {
        if (Thread.interrupted()) {
            throw new InterruptedException("interrupted while reading link " + name);
        }
        int ready = inbox.take(into);
        if (ready == 0) {
            requireUp();
            inbox.await(timeoutNs);
            ready = inbox.take(into);
            if (ready == 0) {
                requireUp();
            }
        }
        return ready;
    }

    @Override
    public void discardInput() throws LinkException {
        requireUp();
        inbox.clear();
    }

    @Override
    public boolean emergencyWrite(byte[] bytes) {
        if (!down.isEmpty()) {
            return false;
        }
        PortWriter.Job queued = new PortWriter.Job(bytes);
        if (writer.submitFirst(queued) && queued.await(EMERGENCY_MS)) {
            return queued.complete();
        }
        // the writer is stuck: write past it; what is sent in an emergency may be sent twice
        PortWriter.Job beside = new PortWriter.Job(bytes);
        writer.runBeside(beside);
        return beside.await(EMERGENCY_MS) && beside.complete();
    }

    /** Bytes that came faster than they were taken and were dropped; 0 unless something is wrong. */
    public long droppedBytes() {
        return inbox.droppedBytes();
    }

    @Override
    public ExitRegistration beforeExit(Runnable action) {
        return EXIT.add(action);
    }

    @Override
    public void close() {
        if (!closed.compareAndSet(false, true)) {
            return;
        }
        fail("the link was closed");
        synchronized (SerialPorts.TURN) {
            port.closePort();
            writer.stop();
            PortWriter.joinBriefly(reader);
        }
    }
}
