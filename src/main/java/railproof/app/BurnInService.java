package railproof.app;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.function.BiConsumer;
import java.util.function.Consumer;
import java.util.function.Function;
import railproof.base.BadFileException;
import railproof.base.Problem;
import railproof.record.BrokenOffRun;
import railproof.record.RecordException;
import railproof.rig.Operator;
import railproof.rig.file.LinkConfig;
import railproof.run.RunEvent;
import railproof.wire.LinkException;

/**
 * Burns in one or more units at once, each on a rig of its own with threads and a run folder of its own; nothing that
 * happens to one touches another.
 *
 * <p>Thread: {@link #run} blocks its caller; the control may be used from any thread.
 */
public final class BurnInService {
    /** From best to worst. */
    private static final List<ExitStatus> BY_WEIGHT = List.of(
            ExitStatus.PASSED,
            ExitStatus.NOT_JUDGED,
            ExitStatus.UNIT_FAILED,
            ExitStatus.BAD_INPUT,
            ExitStatus.RIG_TROUBLE,
            ExitStatus.NOT_SAFE);

    private final List<BurnInRequest> requests;
    private final BenchSource benches;
    private final BurnInControl control;

    /** Says where a request's instruments are. */
    @FunctionalInterface
    interface BenchSource {
        BenchAccess open(RunRequest request) throws BadFileException;
    }

    /**
     * Prepares; opens nothing yet.
     *
     * @throws BadFileException if two units would share a rig, a port or a serial number
     */
    public BurnInService(List<BurnInRequest> requests) throws BadFileException {
        this(requests, Benches::openForHours);
    }

    BurnInService(List<BurnInRequest> requests, BenchSource benches) throws BadFileException {
        this.requests = List.copyOf(requests);
        this.benches = benches;
        requireApart();
        control = new BurnInControl(
                requests.stream().map(request -> request.run().unitSerial()).toList());
    }

    /** The handle on the units. */
    public BurnInControl control() {
        return control;
    }

    private void requireApart() throws BadFileException {
        List<Problem> problems = new ArrayList<>();
        Set<String> units = new HashSet<>();
        Map<String, String> taken = new HashMap<>();
        for (BurnInRequest request : requests) {
            String unit = request.run().unitSerial();
            String file = request.run().rig().source().name();
            if (!units.add(unit)) {
                problems.add(new Problem("command line", 0, 0, "--unit", "unit " + unit + " stands twice"));
            }
            for (String place : places(request)) {
                String other = taken.putIfAbsent(place, unit);
                if (other != null) {
                    problems.add(
                            new Problem(file, 0, 0, "", "units " + other + " and " + unit + " would share " + place));
                }
            }
        }
        if (!problems.isEmpty()) {
            throw new BadFileException(problems);
        }
    }

    /** What only one unit can have. A simulated bench is made anew for each unit, so it can be named twice. */
    private static List<String> places(BurnInRequest request) {
        List<String> places = new ArrayList<>();
        request.resume()
                .ifPresent(folder ->
                        places.add("the run " + folder.toAbsolutePath().normalize()));
        if (request.run().rig().config().simulation().isPresent()) {
            return places;
        }
        places.add("the rig " + request.run().rig().config().name());
        for (LinkConfig link : request.run().rig().config().links()) {
            if (link instanceof LinkConfig.Serial serial) {
                places.add("the port "
                        + serial.portPath()
                                .map(BurnInService::real)
                                .orElseGet(() -> "usb "
                                        + serial.usb().map(Object::toString).orElse("")));
            } else if (link instanceof LinkConfig.Tcp tcp) {
                places.add("the address " + tcp.host() + ":" + tcp.port());
            } else if (link instanceof LinkConfig.Unix unix) {
                places.add("the socket " + real(unix.path()));
            }
        }
        return places;
    }

    /** A port may have several names. */
    private static String real(String path) {
        try {
            return Path.of(path).toRealPath().toString();
        } catch (java.io.IOException | java.nio.file.InvalidPathException e) {
            return path;
        }
    }

    /**
     * Burns in all units, and returns when the last one is over.
     *
     * @param operators who answers the prompts of a unit
     * @param listener told of every event of every unit after it is on disk, on that unit's writer thread
     */
    public List<BurnInResult> run(Function<String, Operator> operators, BiConsumer<String, RunEvent> listener) {
        List<CompletableFuture<BurnInResult>> results = new ArrayList<>();
        for (BurnInRequest request : requests) {
            CompletableFuture<BurnInResult> result = new CompletableFuture<>();
            String unit = request.run().unitSerial();
            Thread thread = new Thread(
                    () -> {
                        result.complete(burnIn(request, operators.apply(unit), event -> listener.accept(unit, event)));
                    },
                    "burn-in " + unit);
            thread.start();
            results.add(result);
        }
        return results.stream().map(CompletableFuture::join).toList();
    }

    @SuppressWarnings(
            "IllegalCatch") // a mistake in the program that hits one unit must not leave the others unattended
    private BurnInResult burnIn(BurnInRequest request, Operator operator, Consumer<RunEvent> listener) {
        String unit = request.run().unitSerial();
        try {
            RunResult result = request.resume().isPresent()
                    ? resumed(request, request.resume().get(), operator, listener)
                    : run(request, Optional.empty(), operator, listener);
            return new BurnInResult(unit, Optional.of(result), Optional.empty(), result.status());
        } catch (BadFileException e) {
            return new BurnInResult(unit, Optional.empty(), Optional.of(e), ExitStatus.BAD_INPUT);
        } catch (LinkException | RecordException | RuntimeException e) {
            return new BurnInResult(unit, Optional.empty(), Optional.of(e), ExitStatus.RIG_TROUBLE);
        } finally {
            control.handle(unit).over();
        }
    }

    private RunResult resumed(BurnInRequest request, Path folder, Operator operator, Consumer<RunEvent> listener)
            throws BadFileException, LinkException, RecordException {
        try (BrokenOffRun before = BrokenOffRun.hold(folder)) {
            return run(request, Optional.of(before), operator, listener);
        }
    }

    private RunResult run(
            BurnInRequest request, Optional<BrokenOffRun> before, Operator operator, Consumer<RunEvent> listener)
            throws BadFileException, LinkException, RecordException {
        BenchAccess bench = benches.open(request.run());
        BurnInJob job = new BurnInJob(request, before, bench.clock(), control);
        RunService service = new RunService(request.run(), bench, job);
        control.handle(request.run().unitSerial()).attach(service);
        return service.run(operator, listener);
    }

    /** The worst of several results; a safe state that is not confirmed is the worst of all. */
    public static ExitStatus worst(List<BurnInResult> results) {
        return worstOf(results.stream().map(BurnInResult::status).toList());
    }

    /** The worst of several statuses. */
    public static ExitStatus worstOf(List<ExitStatus> statuses) {
        return statuses.stream().max(Comparator.comparing(BY_WEIGHT::indexOf)).orElse(ExitStatus.PASSED);
    }
}
