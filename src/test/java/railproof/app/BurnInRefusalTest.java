package railproof.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.profile.ProfileFile;
import railproof.record.RunFolder;
import railproof.rig.Operator;
import railproof.rig.file.RigFile;
import railproof.run.RunEvent;
import railproof.run.Stage;

/** Burn-ins that are refused before any instrument is spoken to, and why. */
class BurnInRefusalTest {
    private final Path data;

    BurnInRefusalTest(@TempDir Path data) {
        this.data = data;
    }

    private BurnInRequest on(String rig, String unit) throws BadFileException {
        return request(RigFile.parse("bench.toml", rig), PlainBench.PROFILE, unit, Optional.empty(), Optional.empty());
    }

    private BurnInRequest request(
            RigFile rig, String profile, String unit, Optional<Duration> time, Optional<Path> resume)
            throws BadFileException {
        return new BurnInRequest(
                new RunRequest(
                        rig,
                        ProfileFile.parse("plain-5v.toml", profile),
                        unit,
                        Stage.AS_LEFT,
                        "",
                        data,
                        Optional.empty(),
                        false),
                time,
                resume);
    }

    private static List<String> refusals(BurnInRequest... requests) {
        return assertThrows(BadFileException.class, () -> new BurnInService(List.of(requests))).problems().stream()
                .map(Problem::message)
                .toList();
    }

    /** The plain bench on real ports. */
    private static String real(String name, String board, String load, String line) {
        String serial = "{ kind = \"serial\", port = \"%s\", baud = 115200 }";
        return PlainBench.RIG
                .replaceAll("(?s)\\[simulation].*", "")
                .replace("name = \"plain-bench\"", "name = \"" + name + "\"")
                .replace("board = { kind = \"memory\" }", "board = " + String.format(serial, board))
                .replace("load = { kind = \"memory\" }", "load = " + String.format(serial, load))
                .replace("line = { kind = \"memory\" }", "line = " + String.format(serial, line));
    }

    @Test
    void twoUnitsOfOneSerialNumberAreRefused() throws Exception {
        assertEquals(
                List.of("unit LC-1 stands twice"), refusals(on(PlainBench.RIG, "LC-1"), on(PlainBench.RIG, "LC-1")));
    }

    @Test
    void twoUnitsOnOneRigAreRefusedWithEverythingTheyWouldShare() throws Exception {
        String rig = real("bench-a", "/dev/ttyUSB90", "/dev/ttyUSB91", "/dev/ttyUSB92");
        assertEquals(
                List.of(
                        "units LC-1 and LC-2 would share the rig bench-a",
                        "units LC-1 and LC-2 would share the port /dev/ttyUSB90",
                        "units LC-1 and LC-2 would share the port /dev/ttyUSB91",
                        "units LC-1 and LC-2 would share the port /dev/ttyUSB92"),
                refusals(on(rig, "LC-1"), on(rig, "LC-2")));
    }

    @Test
    void onePortUnderTwoNamesInTwoRigsIsOnePort() throws Exception {
        Path port = Files.createFile(data.resolve("port"));
        Path alias = Files.createSymbolicLink(data.resolve("alias"), port);
        assertEquals(
                List.of("units LC-1 and LC-2 would share the port " + port.toRealPath()),
                refusals(
                        on(real("bench-a", port.toString(), "/dev/ttyUSB91", "/dev/ttyUSB92"), "LC-1"),
                        on(real("bench-b", alias.toString(), "/dev/ttyUSB94", "/dev/ttyUSB95"), "LC-2")));
    }

    @Test
    void oneRunIsNotResumedForTwoUnits() throws Exception {
        RigFile rig = RigFile.parse("bench.toml", PlainBench.RIG);
        Optional<Path> folder = Optional.of(data.resolve("run"));
        assertEquals(
                List.of("units LC-1 and LC-2 would share the run "
                        + data.resolve("run").toAbsolutePath()),
                refusals(
                        request(rig, PlainBench.PROFILE, "LC-1", Optional.empty(), folder),
                        request(rig, PlainBench.PROFILE, "LC-2", Optional.empty(), folder)));
    }

    /** A burn-in of BI-9 that broke off. */
    private Path brokenOff() throws Exception {
        BurnInService service = BurnInBench.service(List.of(BurnInBench.request("BI-9", data, Optional.empty())));
        Path folder = service.run(unit -> Operator.nobody(), (unit, event) -> {
                    if (event instanceof RunEvent.PointTaken taken
                            && taken.point().index() == 9) {
                        service.control().stop(unit, "killed");
                    }
                })
                .get(0)
                .run()
                .orElseThrow()
                .folder();
        Files.delete(folder.resolve("end.json"));
        List<String> events = Files.readAllLines(folder.resolve("events.jsonl"));
        Files.write(folder.resolve("events.jsonl"), events.subList(0, events.size() - 1));
        return folder;
    }

    private void assertRefused(BurnInRequest request, String words) throws Exception {
        BurnInResult result = BurnInBench.service(List.of(request))
                .run(unit -> Operator.nobody(), (unit, event) -> {})
                .get(0);
        String said = result.trouble()
                .map(trouble -> String.valueOf(trouble.getMessage()))
                .orElse("resumed");
        assertTrue(said.contains(words), said);
        assertEquals(ExitStatus.BAD_INPUT, result.status());
    }

    @Test
    void aRunIsResumedOnlyWithItsOwnProfileAndItsOwnTime() throws Exception {
        Path folder = brokenOff();
        int points = RunFolder.read(folder).points().size();
        BurnInRequest own = BurnInBench.request("BI-9", data, Optional.of(folder));
        String changed = own.run().profile().source().text().replace("load_pct = 90", "load_pct = 80");

        assertRefused(
                request(own.run().rig(), changed, "BI-9", Optional.empty(), Optional.of(folder)),
                "it was made with another profile, or the profile was changed since");
        assertRefused(
                request(
                        own.run().rig(),
                        own.run().profile().source().text(),
                        "BI-9",
                        Optional.of(Duration.ofHours(5)),
                        Optional.of(folder)),
                "this run was begun for 0.1 h; leave out --hours");

        assertEquals(points, RunFolder.read(folder).points().size(), "nothing was written");
    }

    @Test
    void aRunThatIsNoBurnInIsNotResumed() throws Exception {
        PlainBench bench = new PlainBench();
        BurnInRequest burnIn = BurnInBench.request("BI-9", data, Optional.empty());
        RunService service = new RunService(burnIn.run(), BurnInBench.access(bench, burnIn.run(), link -> link));
        Path folder = service.run(Operator.nobody(), event -> {
                    if (event instanceof RunEvent.PointTaken) {
                        service.stop("killed");
                    }
                })
                .folder();
        Files.delete(folder.resolve("end.json"));
        List<String> events = Files.readAllLines(folder.resolve("events.jsonl"));
        Files.write(folder.resolve("events.jsonl"), events.subList(0, events.size() - 1));

        assertRefused(BurnInBench.request("BI-9", data, Optional.of(folder)), "this run is no burn-in");
    }

    @Test
    void aRunThatAnotherProcessHoldsIsNotResumedUntilThatProcessIsGone() throws Exception {
        Path folder = brokenOff();
        Process holder =
                ControllerProcess.builder(LockHolder.class, folder.toString()).start();
        try (BufferedReader said =
                new BufferedReader(new InputStreamReader(holder.getInputStream(), StandardCharsets.UTF_8))) {
            assertTrue(String.valueOf(said.readLine()).startsWith("held: "));

            assertRefused(
                    BurnInBench.request("BI-9", data, Optional.of(folder)),
                    "this run is being written at this moment, by another process");

            holder.getOutputStream().close();
            assertTrue(holder.waitFor(60, TimeUnit.SECONDS));
        } finally {
            holder.destroyForcibly();
        }
        BurnInResult result = BurnInBench.service(List.of(BurnInBench.request("BI-9", data, Optional.of(folder))))
                .run(unit -> Operator.nobody(), (unit, event) -> {})
                .get(0);
        assertEquals(ExitStatus.PASSED, result.status());
    }
}
