package railproof.app;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import railproof.cli.CommandLineFace;
import railproof.rig.file.BuiltInFiles;
import railproof.rig.file.CalibrationFile;
import railproof.rig.file.RigFile;

/**
 * The command line's calibration as on a real bench: no simulation in the rig file, instruments behind network ports in
 * real time, a person who turns a source and types what the meter reads. Real time: half a second for each level.
 */
@Tag("slow")
@Timeout(value = 2, unit = TimeUnit.MINUTES)
class TypedCalibrationTest {
    private static final RigFile SIMULATED = BuiltInFiles.rig("simulated-bench");

    @TempDir
    private Path folder = Path.of("");

    private final ByteArrayOutputStream out = new ByteArrayOutputStream();
    private final ByteArrayOutputStream said = new ByteArrayOutputStream();

    /** What the person does when asked: turns the source (or leaves it), and types a line. */
    private record Answer(OptionalDouble level, String typed) {
        static Answer turn(double level, String typed) {
            return new Answer(OptionalDouble.of(level), typed);
        }

        static Answer type(String typed) {
            return new Answer(OptionalDouble.empty(), typed);
        }
    }

    /** A keyboard that hands out one line for each time it is waited for, and turns the source before. */
    private static InputStream keyboard(NetworkBench bench, Answer... answers) {
        Deque<Answer> left = new ArrayDeque<>(List.of(answers));
        return new InputStream() {
            @Override
            public int read() {
                throw new IllegalStateException("lines are read whole");
            }

            @Override
            public int read(byte[] into, int offset, int length) {
                Answer answer = left.poll();
                if (answer == null) {
                    return -1;
                }
                answer.level().ifPresent(bench::turnSource);
                byte[] line = (answer.typed() + "\n").getBytes(UTF_8);
                System.arraycopy(line, 0, into, offset, line.length);
                return line.length;
            }
        };
    }

    private int calibrate(Path rig, InputStream keyboard) {
        CommandLineFace face =
                new CommandLineFace(new PrintStream(out, true, UTF_8), new PrintStream(said, true, UTF_8), keyboard);
        return face.run(
                "calibrate",
                "--rig",
                rig.toString(),
                "--channel",
                "output-1",
                "--reference",
                "bench meter, serial 0012",
                "--reference-u",
                "0.001 % + 0.00002",
                "--levels",
                "0.5,4,9");
    }

    private Path rigFile(NetworkBench bench) throws Exception {
        Path file = folder.resolve("rig.toml");
        String text = bench.rigFile(SIMULATED.source().text());
        Files.writeString(
                file, text.replaceFirst("(?m)^title = .*", "title = \"bench\"\ncalibration_file = \"cal.toml\""));
        return file;
    }

    @Test
    void typedReadingsBecomeTheCalibrationFile() throws Exception {
        try (NetworkBench bench = new NetworkBench(SIMULATED, "output-1")) {
            Path rig = rigFile(bench);
            // the meter at the terminals sees 20 mV more than the channel: that much is lost in its leads
            int status = calibrate(
                    rig,
                    keyboard(
                            bench,
                            Answer.turn(0.5, "0.5"),
                            Answer.turn(4, "four volts"),
                            Answer.type("4.0"),
                            Answer.turn(9, "9"),
                            Answer.turn(0, "0"),
                            Answer.turn(5, " 5.020 "),
                            Answer.type("4")));

            assertEquals(ExitStatus.PASSED.code(), status, () -> said.toString(UTF_8));
            assertEquals("Calibrated: output-1" + System.lineSeparator(), out.toString(UTF_8));
            assertTrue(said.toString(UTF_8).contains("found \"four volts\""), () -> said.toString(UTF_8));
            CalibrationFile file = CalibrationFile.read(
                    folder.resolve("cal.toml"), RigFile.read(rig).config());
            var evidence =
                    Objects.requireNonNull(file.channels().get("output-1")).evidence();
            // one code of the converter and its noise, averaged: far below a millivolt
            assertEquals(0, evidence.zeroDimensionless().orElseThrow(), 0.001);
            assertEquals(-0.020, evidence.leadDrop().orElseThrow().dropDimensionless(), 0.001);
            assertEquals(4, evidence.leadDrop().orElseThrow().currentA());
            // 20 mV at 4 A
            assertEquals(0.005, file.line("output-1").orElseThrow().leadUOhm(), 0.0003);
            assertEquals(3, evidence.reference().size());
        }
    }

    @Test
    void anEmptyLineEndsItAndNothingIsWritten() throws Exception {
        try (NetworkBench bench = new NetworkBench(SIMULATED, "output-1")) {
            int status = calibrate(rigFile(bench), keyboard(bench, Answer.turn(0.5, "0.5"), Answer.type("")));

            assertEquals(ExitStatus.RIG_TROUBLE.code(), status);
            assertTrue(said.toString(UTF_8).contains("given up"), () -> said.toString(UTF_8));
            assertFalse(Files.exists(folder.resolve("cal.toml")));
        }
    }

    /** The source stands at 4 V, the person reads another line of the meter: wrong wiring or a slip is told at once. */
    @Test
    void aReadingFarFromTheChannelIsNotBelieved() throws Exception {
        try (NetworkBench bench = new NetworkBench(SIMULATED, "output-1")) {
            int status = calibrate(rigFile(bench), keyboard(bench, Answer.turn(4, "0.5")));

            assertEquals(ExitStatus.RIG_TROUBLE.code(), status);
            assertTrue(said.toString(UTF_8).contains("connected wrongly"), () -> said.toString(UTF_8));
            assertFalse(Files.exists(folder.resolve("cal.toml")));
        }
    }
}
