package railproof.campaign;

import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import railproof.app.ExitStatus;
import railproof.app.RunResult;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.sim.SimulatedBench;

/**
 * One injected fault held against what it must lead to: everything off at the simulated plant itself, a status and a
 * cause that are right, nothing raw.
 */
record Finding(
        FaultCampaign.Injection injection, FaultCampaign.Outcome outcome, ExitStatus clean, List<String> complaints) {
    private static final Pattern RAW = Pattern.compile("Exception|Error:|^\\s+at |java\\.|null|a bug in the program");

    static Finding of(FaultCampaign.Injection injection, FaultCampaign.Outcome outcome, ExitStatus clean) {
        List<String> complaints = new ArrayList<>();
        if (on(outcome.later())) {
            complaints.add("the plant is still on: " + outcome.later());
        }
        outcome.result().ifPresent(result -> complaints.addAll(ended(injection, outcome, result, clean)));
        outcome.trouble().ifPresent(trouble -> {
            if (!injection.effect().explains(String.valueOf(trouble.getMessage()), injection.link())) {
                complaints.add("the trouble is not the one injected");
            }
            if (RAW.matcher(String.valueOf(trouble.getMessage())).find()) {
                complaints.add("raw: " + trouble.getMessage());
            }
            if (on(outcome.atEnd())) {
                complaints.add("on when the program ended");
            }
        });
        return new Finding(injection, outcome, clean, List.copyOf(complaints));
    }

    private static boolean on(SimulatedBench.Sight sight) {
        return sight.lineLive() || sight.loadCurrentA() > 0;
    }

    private static List<String> ended(
            FaultCampaign.Injection injection, FaultCampaign.Outcome outcome, RunResult result, ExitStatus clean) {
        List<String> complaints = new ArrayList<>();
        RunOutcome run = result.run().outcome();
        Effect effect = injection.effect();
        if (run.safeState() == SafeState.CONFIRMED && on(outcome.atEnd())) {
            complaints.add("called confirmed off, and was on: " + outcome.atEnd());
        }
        if (run.completed()) {
            if (run.safeState() != SafeState.CONFIRMED) {
                if (result.status() != ExitStatus.NOT_SAFE) {
                    complaints.add("not confirmed, yet status " + result.status());
                }
            } else if (!notWhole(result).isEmpty()) {
                complaints.addAll(effect.kind() == Effect.Kind.DISK ? List.of() : notWhole(result));
            } else if (result.status() != clean && !effect.mayChangeTheVerdict()) {
                complaints.add("completed, but judged " + result.status() + " instead of " + clean);
            }
        } else {
            if (!effect.ends().contains(run.end())) {
                complaints.add("ended " + run.end());
            }
            if (!effect.explains(run.cause(), injection.link())) {
                complaints.add("the cause is not the one injected");
            }
            if (result.status() != right(run, result)) {
                complaints.add("status " + result.status());
            }
        }
        String words = run.cause() + "\n" + String.join("\n", run.later()) + String.join("\n", notWhole(result));
        if (RAW.matcher(words).find()) {
            complaints.add("raw: " + words);
        }
        return complaints;
    }

    /** Why the record is not whole; other paperwork may be left out for reasons of its own. */
    private static List<String> notWhole(RunResult result) {
        return result.troubles().stream()
                .filter(trouble -> trouble.startsWith("The record is not whole"))
                .toList();
    }

    private static ExitStatus right(RunOutcome run, RunResult result) {
        if (run.safeState() != SafeState.CONFIRMED) {
            return ExitStatus.NOT_SAFE;
        }
        return run.end() == RunOutcome.End.TRIPPED && notWhole(result).isEmpty()
                ? ExitStatus.UNIT_FAILED
                : ExitStatus.RIG_TROUBLE;
    }

    boolean good() {
        return complaints.isEmpty();
    }

    /** The kind of end, as the table shows it. */
    String end() {
        return outcome.result()
                .map(result -> result.run().outcome().end().name())
                .orElse("NOT_BEGUN");
    }

    String safeState() {
        return outcome.result()
                .map(result -> result.run().outcome().safeState().name())
                .orElse("");
    }

    String status() {
        return outcome.result()
                .map(result -> Integer.toString(result.status().code()))
                .orElse(Integer.toString(ExitStatus.RIG_TROUBLE.code()));
    }

    String cause() {
        return outcome.result()
                .map(result -> result.run().outcome().cause())
                .orElseGet(() -> outcome.trouble().map(Throwable::getMessage).orElse(""));
    }

    @Override
    public String toString() {
        return injection.phase() + " " + injection.effect() + " exchange " + injection.exchange() + " on "
                + injection.link() + " seed " + injection.seed() + ": " + end() + " " + safeState() + " status "
                + status() + " \"" + cause() + "\": " + complaints;
    }
}
