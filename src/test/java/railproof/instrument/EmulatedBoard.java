package railproof.instrument;

import java.io.IOException;
import java.net.ConnectException;
import java.net.StandardProtocolFamily;
import java.net.UnixDomainSocketAddress;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.SocketChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import railproof.base.SystemClock;
import railproof.sim.device.AdcChannel;
import railproof.sim.device.AnalogSource;
import railproof.sim.device.BoardBench;
import railproof.sim.device.BoardOutputs;
import railproof.sim.device.WindowBench;
import railproof.wire.Link;
import railproof.wire.LinkException;
import railproof.wire.serial.PtyPair;
import railproof.wire.serial.SerialLink;
import railproof.wire.serial.SerialSettings;

/**
 * The reference firmware at the end of two serial cables: built with {@code make}, run by an emulator of its processor or
 * as a process with sanitizers. The cables are pairs of pseudo-terminals. Needs make, socat, and either
 * arm-none-eabi-gcc and qemu-system-arm, or a C compiler.
 */
public final class EmulatedBoard {
    /** Inputs as the firmware states them. */
    public static final List<AdcChannel> CHANNELS = IntStream.range(0, 32)
            .mapToObj(c -> AdcChannel.ideal("in " + c, -10.24, 10.24))
            .toList();

    private static final Path FIRMWARE = Path.of("firmware-protocol", "firmware");
    private static final Path BUILD = Path.of("target", "firmware").toAbsolutePath();
    private static final Pattern WORD = Pattern.compile("0x([0-9a-f]{8})\\s*\\R");
    private static final String LAMPS = "xp /1wx 0x40028000";

    private final PtyPair lineCable;
    private final PtyPair benchCable;
    private final Process process;
    private final Optional<Path> monitor;
    private final Path memory;
    private final BoardBench bench;
    private final List<Link> links = new ArrayList<>();

    private EmulatedBoard(
            PtyPair lineCable,
            PtyPair benchCable,
            Process process,
            Optional<Path> monitor,
            Path memory,
            AnalogSource source)
            throws LinkException {
        this.lineCable = lineCable;
        this.benchCable = benchCable;
        this.process = process;
        this.monitor = monitor;
        this.memory = memory;
        SerialLink benchLine =
                SerialLink.open("bench", SerialSettings.board(benchCable.far().toString()), SystemClock.INSTANCE);
        bench = new BoardBench(benchLine, CHANNELS, source, BoardOutputs.none(), 5);
    }

    /** The real firmware on an emulated Cortex-M3 whose clock is the wall clock. */
    public static EmulatedBoard cortex(Path folder, AnalogSource source) throws Exception {
        return cortex(folder, source, "");
    }

    /**
     * The same with a clock that goes on by what the processor does, and with the wall clock only while it sleeps: when
     * the computer has no time for the emulator, the board's clock stands still, and neither its watchdog nor its
     * heartbeat takes that for a fault of the firmware or of the host. For runs of minutes on a busy computer.
     */
    public static EmulatedBoard cortexAtItsOwnPace(Path folder, AnalogSource source) throws Exception {
        return cortex(folder, source, " -icount shift=4,sleep=on");
    }

    private static EmulatedBoard cortex(Path folder, AnalogSource source, String clock) throws Exception {
        make("arm");
        PtyPair line = cable(folder, "line");
        PtyPair bench = cable(folder, "bench");
        Path monitor = folder.resolve("monitor");
        Path memory = sharedMemory(folder);
        Process process = start(
                folder,
                "qemu-system-arm -object memory-backend-file,id=shared,size=16M,share=on,mem-path=" + memory
                        + " -M mps2-an385,memory-backend=shared" + clock + " -display none -kernel "
                        + BUILD.resolve("board-mps2.elf")
                        + " -monitor unix:" + monitor + ",server=on,wait=off"
                        + " -chardev serial,id=s0,path=" + line.near() + " -serial chardev:s0"
                        + " -chardev serial,id=s1,path=" + bench.near() + " -serial chardev:s1");
        EmulatedBoard board = new EmulatedBoard(line, bench, process, Optional.of(monitor), memory, source);
        board.awaitMonitor();
        return board;
    }

    /** The same code as a process of this machine, under the address and undefined-behaviour sanitizers. */
    public static EmulatedBoard process(Path folder, AnalogSource source) throws Exception {
        EmulatedBoard board = processInRealTime(folder, source);
        board.bench.pace();
        return board;
    }

    /** The same with a clock that runs whatever this machine does: for measurements of speed. */
    public static EmulatedBoard processInRealTime(Path folder, AnalogSource source) throws Exception {
        make("host");
        PtyPair line = cable(folder, "line");
        PtyPair bench = cable(folder, "bench");
        Path memory = sharedMemory(folder);
        Process process =
                start(folder, BUILD.resolve("board-host") + " " + line.near() + " " + bench.near() + " " + memory);
        return new EmulatedBoard(line, bench, process, Optional.empty(), memory, source);
    }

    /** Memory that the board has in common with this process. */
    private static Path sharedMemory(Path folder) throws IOException {
        Path memory = folder.resolve("memory");
        try (FileChannel channel = FileChannel.open(memory, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE)) {
            channel.write(ByteBuffer.allocate(1), WindowBench.SIZE - 1L);
        }
        return memory;
    }

    /** From now on everything at the terminals comes and goes through the shared memory. */
    public WindowBench window(List<AdcChannel> converters, AnalogSource source, BoardOutputs outputs, long seed)
            throws IOException {
        return new WindowBench(memory, converters, source, outputs, seed);
    }

    /** The port at the host's end of the cable. */
    public Path port() {
        return lineCable.far();
    }

    private static synchronized void make(String target) throws IOException, InterruptedException {
        Path log = Files.createTempFile("make", ".log");
        Process make = new ProcessBuilder("make", "-C", FIRMWARE.toString(), "OUT=" + BUILD, target)
                .redirectErrorStream(true)
                .redirectOutput(log.toFile())
                .start();
        if (make.waitFor() != 0) {
            throw new IOException("make " + target + ": " + Files.readString(log));
        }
        Files.delete(log);
    }

    private static PtyPair cable(Path folder, String name) throws IOException, InterruptedException {
        return PtyPair.plug(Files.createDirectories(folder.resolve(name)));
    }

    private static Process start(Path folder, String command) throws IOException {
        return new ProcessBuilder(command.split(" ", -1))
                .redirectErrorStream(true)
                .redirectOutput(folder.resolve("board.log").toFile())
                .start();
    }

    private void awaitMonitor() throws IOException, InterruptedException {
        for (int tries = 0; tries < 500; tries++) {
            if (Files.exists(monitor.orElseThrow()) && runs()) {
                return;
            }
            TimeUnit.MILLISECONDS.sleep(10);
        }
        close(); // what was started must not outlive a board that could not be had
        throw new IOException("the emulator does not run");
    }

    private boolean runs() throws IOException {
        try {
            return ask("info status").contains("running");
        } catch (ConnectException e) {
            return false; // the emulator has made the socket, but does not listen yet
        }
    }

    /** Says something to the emulator's monitor and gives its answer. */
    public String ask(String command) throws IOException {
        try (SocketChannel channel = SocketChannel.open(StandardProtocolFamily.UNIX)) {
            channel.connect(UnixDomainSocketAddress.of(monitor.orElseThrow()));
            awaitPrompt(channel);
            channel.write(ByteBuffer.wrap((command + "\n").getBytes(StandardCharsets.US_ASCII)));
            return awaitPrompt(channel);
        }
    }

    private static String awaitPrompt(SocketChannel channel) throws IOException {
        ByteBuffer bytes = ByteBuffer.allocate(65536);
        String text = "";
        // the command is echoed letter by letter, with the prompt before it: the prompt that counts is at the end of a
        // line
        while (!text.endsWith("(qemu) ") && channel.read(bytes) >= 0) {
            text = new String(bytes.array(), 0, bytes.position(), StandardCharsets.US_ASCII);
        }
        return text;
    }

    /**
     * The outputs, seen without asking the firmware: on the emulated processor the register of its lamps, bit 0 load-enable
     * and bit 1 any contact; of the process what the bench line last said.
     */
    public int outputsOutside() throws IOException {
        if (monitor.isEmpty()) {
            return (bench.loadEnabled() ? 1 : 0) | (bench.contacts() != 0 ? 2 : 0);
        }
        String answer = ask(LAMPS);
        Matcher word = WORD.matcher(answer);
        if (!word.find()) {
            throw new IOException("no word in \"" + answer + "\"");
        }
        return Integer.parseUnsignedInt(word.group(1), 16);
    }

    /** Opens the host's end of the cable. */
    public Link open() throws LinkException {
        Link link = SerialLink.open("daq", SerialSettings.board(lineCable.far().toString()), SystemClock.INSTANCE);
        links.add(link);
        return link;
    }

    /** What lies at the terminals. */
    public BoardBench bench() {
        return bench;
    }

    /** The processes that are the emulator and its two cables, in this order. */
    public List<Long> processes() {
        return List.of(process.pid(), lineCable.pid(), benchCable.pid());
    }

    /** Pulls the cable to the host. */
    public void pull() throws IOException, InterruptedException {
        lineCable.pull();
    }

    /** Whether the emulation still runs: a sanitizer that found something would have ended it. */
    public boolean alive() {
        return process.isAlive();
    }

    /** Ends everything: links, emulation, cables. */
    public void close() throws IOException, InterruptedException {
        links.forEach(Link::close);
        bench.close();
        process.destroyForcibly().waitFor();
        lineCable.pull();
        benchCable.pull();
    }
}
