package railproof.seal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.BadFileException;
import railproof.run.Stage;
import railproof.seal.Verification.State;

/** A process killed with SIGKILL while it adds a sign-off and a certificate: the run reads as before or as after. */
@Tag("slow")
class KilledSealTest {
    private static final long SEED = 20261125;
    private static final int KILLS = 15;

    @TempDir
    Path place = Path.of("");

    /** Signs off again and again, each time with other files. */
    public static void main(String[] arguments) throws IOException, BadFileException {
        Path folder = Path.of(arguments[0]);
        Sealer sealer = new Sealer(new KeyFolder(Path.of(arguments[1])));
        int first = Integer.parseInt(arguments[2]);
        for (int round = first; round < first + 400; round++) {
            sealer.seal(folder, SealedRuns.header(folder), SealedRuns.DAY.plusSeconds(round), files(round));
            // from the first one on everything is loaded: a kill now hits a write, not the start
            System.out.write('!');
            System.out.flush();
        }
    }

    private static Map<String, byte[]> files(int round) {
        byte[] page = new byte[20_000];
        new Random(round).nextBytes(page);
        return Map.of(
                "sign-off.json", ("{\"round\": " + round + "}\n").getBytes(StandardCharsets.UTF_8),
                "certificate.html", ("<p>" + round + "</p>\n").getBytes(StandardCharsets.UTF_8),
                "certificate.pdf", page);
    }

    @Test
    void theRunIsIntactWheneverItsSealerDies() throws Exception {
        SealedRuns runs = new SealedRuns(place);
        Random random = new Random(SEED);
        int halfNamed = 0;
        for (int kill = 0; kill < KILLS; kill++) {
            Path folder = runs.run("LC-" + kill, Stage.AS_LEFT, kill);
            Process sealer = new ProcessBuilder(
                            Path.of(System.getProperty("java.home"), "bin", "java")
                                    .toString(),
                            "-cp",
                            System.getProperty("java.class.path"),
                            KilledSealTest.class.getName(),
                            folder.toString(),
                            runs.keys.folder().toString(),
                            String.valueOf(1000 * kill))
                    .redirectError(ProcessBuilder.Redirect.INHERIT)
                    .start();
            assertEquals('!', sealer.getInputStream().read());
            TimeUnit.MICROSECONDS.sleep(random.nextInt(200_000));
            sealer.destroyForcibly().waitFor();

            Verification found = runs.verify(folder);
            assertEquals(State.INTACT, found.state(), "kill " + kill + " seed " + SEED + ": " + found.findings());
            halfNamed += found.notes().isEmpty() ? 0 : 1;
            new Sealer(runs.keys).seal(folder, SealedRuns.header(folder), SealedRuns.DAY, files(7));
            assertEquals(State.INTACT, runs.verify(folder).state());
            assertEquals("{\"round\": 7}\n", Files.readString(folder.resolve("sign-off.json")));
        }
        System.out.println("killed " + KILLS + " times, " + halfNamed + " in the middle of a write, seed " + SEED);
    }
}
