package railproof.campaign;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.atomic.AtomicReference;
import java.util.stream.Stream;
import railproof.app.BenchAccess;
import railproof.app.Benches;
import railproof.app.ExitStatus;
import railproof.app.HookedRun;
import railproof.app.LinkOpener;
import railproof.app.RunRequest;
import railproof.app.RunResult;
import railproof.app.RunService;
import railproof.base.BadFileException;
import railproof.base.Clock;
import railproof.instrument.FramedDaqBoard;
import railproof.instrument.InstrumentException;
import railproof.record.FaultyDisk;
import railproof.record.RecordException;
import railproof.rig.file.RigFile;
import railproof.run.Stage;
import railproof.sim.FaultyLink;
import railproof.sim.LinkEffect;
import railproof.sim.SimulatedBench;
import railproof.wire.Link;
import railproof.wire.LinkDownException;
import railproof.wire.LinkException;
import railproof.wire.MemoryLink;

/**
 * Runs of one procedure on the campaign bench, each with one fault injected at a chosen exchange. The same procedure,
 * exchange, effect and seed give the same run.
 *
 * <p>Thread: each run has a bench of its own; any number at a time.
 */
final class FaultCampaign {
    /** Stands for the burn-in among the procedures. */
    static final String BURN_IN = "burn-in";

    static final List<String> PROCEDURES = List.of(
            "load-sweep",
            "first-power-up",
            "line-sweep",
            "dropout-line",
            "load-step",
            "hold-up",
            "start-up",
            "current-limit",
            "cross-regulation",
            BURN_IN);

    private final Path data;
    private final AtomicInteger folders = new AtomicInteger();

    /** A campaign whose records go under a folder. */
    FaultCampaign(Path data) {
        this.data = data;
    }

    /**
     * One word to an instrument.
     *
     * @param step what the run was doing
     * @param link the link it went out on
     */
    record Exchange(Phase.Step step, String link) {}

    /**
     * A run without a fault.
     *
     * @param exchanges all words to instruments, in order
     * @param diskOperations how many things were asked of the disk
     */
    record Clean(String procedure, List<Exchange> exchanges, int diskOperations, ExitStatus status) {}

    /**
     * One fault to be injected.
     *
     * @param exchange the exchange it strikes, from 1 on; for the disk the operation, from 0 on
     */
    record Injection(Phase phase, Effect effect, int exchange, String link, long seed) {}

    /**
     * What came of it.
     *
     * @param atEnd what an onlooker saw the moment the run was over
     * @param later what an onlooker saw a second later
     * @param struck whether the exchange was reached at all
     */
    record Outcome(
            Optional<RunResult> result,
            Optional<Exception> trouble,
            SimulatedBench.Sight atEnd,
            SimulatedBench.Sight later,
            boolean struck) {}

    /** Runs a procedure undisturbed. */
    Clean clean(String procedure) throws Exception {
        CampaignBench bench = new CampaignBench();
        PhaseSpy spy = new PhaseSpy();
        List<Exchange> exchanges = new ArrayList<>();
        FaultyDisk disk = new FaultyDisk(FaultyDisk.Kind.SOUND, 0);
        LinkOpener opener = wrapped(bench, bench.clock, (link, n) -> {
            exchanges.add(new Exchange(spy.step(), link.name()));
            return new LinkEffect.None();
        });
        Path folder = newFolder();
        RunResult result = run(
                procedure,
                folder,
                new BenchAccess(bench.clock, opener, true, "campaign unit"),
                new HookedRun.Hooks(disk, spy::watched, spy::over, service -> {}));
        delete(folder);
        return new Clean(procedure, List.copyOf(exchanges), disk.asked(), result.status());
    }

    /** Runs a procedure with one fault. */
    Outcome struck(Injection injection) throws IOException, BadFileException {
        CampaignBench bench = new CampaignBench();
        JumpingClock clock = new JumpingClock(bench.clock);
        AtomicLong count = new AtomicLong();
        AtomicReference<RunService> running = new AtomicReference<>();
        boolean wire = injection.effect().kind() != Effect.Kind.DISK;
        Path folder = newFolder();
        PhaseSpy spy = new PhaseSpy();
        LinkOpener opener = injection.effect().kind() == Effect.Kind.PORT
                ? refusing(bench, injection)
                : wrapped(bench, clock, (link, n) -> {
                    if (count.incrementAndGet() != injection.exchange() || !wire) {
                        return new LinkEffect.None();
                    }
                    return injection
                            .effect()
                            .strike(new Effect.Target(
                                    bench,
                                    link.name(),
                                    injection.seed(),
                                    () -> Objects.requireNonNull(running.get()).stop("stop pressed"),
                                    () -> secondController(bench),
                                    () -> jump(injection, clock)));
                });
        FaultyDisk disk = new FaultyDisk(injection.effect().disk(), injection.exchange());
        Optional<RunResult> result = Optional.empty();
        Optional<Exception> trouble = Optional.empty();
        try {
            result = Optional.of(run(
                    injection.phase().procedure(),
                    folder,
                    new BenchAccess(clock, opener, true, "campaign unit"),
                    new HookedRun.Hooks(disk, spy::watched, spy::over, running::set)));
        } catch (LinkException | RecordException | BadFileException e) {
            trouble = Optional.of(e);
        }
        SimulatedBench.Sight atEnd = bench.bench.sight();
        delete(folder);
        boolean struck = injection.effect().kind() == Effect.Kind.PORT
                || (wire ? count.get() : disk.asked() - 1) >= injection.exchange();
        return new Outcome(result, trouble, atEnd, bench.sightLater(), struck);
    }

    private static RunResult run(String procedure, Path folder, BenchAccess access, HookedRun.Hooks hooks)
            throws LinkException, RecordException, BadFileException {
        RunRequest request = new RunRequest(
                CampaignBench.rig(),
                CampaignBench.profile(procedure),
                "CB-0001",
                Stage.AS_LEFT,
                "",
                folder,
                Optional.empty(),
                false);
        return procedure.equals(BURN_IN)
                ? HookedRun.burnIn(request, access, hooks)
                : HookedRun.qualification(request, access, hooks);
    }

    /** What becomes of an exchange. */
    @FunctionalInterface
    private interface Fate {
        LinkEffect of(Link link, long n);
    }

    private static LinkOpener wrapped(CampaignBench bench, Clock clock, Fate fate) throws BadFileException {
        RigFile rig = CampaignBench.rig();
        LinkOpener memory = Benches.memoryLinks(bench.bench, rig.config());
        return (config, with) -> {
            Link link = memory.open(config, clock);
            return new FaultyLink(link, n -> fate.of(link, n));
        };
    }

    /** The words are those of a real port. */
    private static LinkOpener refusing(CampaignBench bench, Injection injection) throws BadFileException {
        LinkOpener memory = Benches.memoryLinks(bench.bench, CampaignBench.rig().config());
        return (config, with) -> {
            if (!config.name().equals(injection.link())) {
                return memory.open(config, with);
            }
            throw new LinkDownException(
                    config.name(),
                    switch (injection.effect()) {
                        case PORT_WITHOUT_PERMISSION -> "cannot open /dev/ttyUSB0: no permission";
                        case PORT_IN_USE -> "cannot open /dev/ttyUSB0: in use by another program";
                        default -> "there is no serial port /dev/ttyUSB0";
                    });
        };
    }

    /** Somebody starts a second program on the same bench: its first words are "off". */
    private static void secondController(CampaignBench bench) {
        FramedDaqBoard board =
                new FramedDaqBoard("board", new MemoryLink("second", bench.clock, bench.bench.board()), "", () -> 4711);
        try {
            board.connect();
        } catch (LinkException | InstrumentException e) {
            throw new IllegalStateException(e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private static void jump(Injection injection, JumpingClock clock) {
        if (injection.effect() == Effect.WALL_CLOCK_JUMPS) {
            clock.setBack();
            return;
        }
        try {
            clock.sleepNs(30_000_000_000L);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    /** A clock whose wall time can be set back, as an operating system does without asking. */
    private static final class JumpingClock implements Clock {
        private final Clock clock;
        private volatile boolean back;

        JumpingClock(Clock clock) {
            this.clock = clock;
        }

        void setBack() {
            back = true;
        }

        @Override
        public long nowNs() {
            return clock.nowNs();
        }

        @Override
        public Instant wallTime() {
            return back ? clock.wallTime().minusSeconds(86_400) : clock.wallTime();
        }

        @Override
        public void sleepNs(long durationNs) throws InterruptedException {
            clock.sleepNs(durationNs);
        }
    }

    /** Every effect at every phase of a procedure; the exchange within the phase drawn by the seed. */
    static List<Injection> plan(Clean clean, boolean withCommonSteps, long seed) {
        Random random = new Random(seed ^ clean.procedure().hashCode());
        Map<Phase.Step, List<Integer>> byStep = new HashMap<>();
        for (int i = 0; i < clean.exchanges().size(); i++) {
            byStep.computeIfAbsent(clean.exchanges().get(i).step(), step -> new ArrayList<>())
                    .add(i + 1);
        }
        List<Injection> plan = new ArrayList<>();
        for (Phase.Step step : Phase.Step.values()) {
            List<Integer> exchanges = byStep.getOrDefault(step, List.of());
            if (exchanges.isEmpty() || (step.common() && !withCommonSteps)) {
                continue;
            }
            for (Effect effect : Effect.values()) {
                int at = exchanges.get(random.nextInt(exchanges.size()));
                String link = clean.exchanges().get(at - 1).link();
                if (effect.kind() == Effect.Kind.DISK) {
                    at = random.nextInt(clean.diskOperations());
                } else if (effect.kind() == Effect.Kind.PORT && step != Phase.Step.CONNECT) {
                    continue;
                }
                plan.add(new Injection(new Phase(clean.procedure(), step), effect, at, link, random.nextLong()));
            }
        }
        return plan;
    }

    private Path newFolder() throws IOException {
        return Files.createDirectory(data.resolve("run" + folders.incrementAndGet()));
    }

    private static void delete(Path folder) throws IOException {
        try (Stream<Path> files = Files.walk(folder)) {
            for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
                Files.delete(file);
            }
        }
    }
}
