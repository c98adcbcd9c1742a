package railproof.cli;

import java.io.IOException;
import java.util.EnumSet;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import railproof.diagnosis.Diagnosis;
import railproof.diagnosis.Dictionary;
import railproof.diagnosis.MeterQuestion;
import railproof.diagnosis.Priors;
import railproof.diagnosis.ProbeNode;
import railproof.diagnosis.Readings;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.report.DiagnosisText;

/**
 * Asks at the keyboard for a meter's readings, node by node, the most telling node first; says after each what is believed
 * now. Cautions come before the first question that takes the cover off.
 */
final class GuidedProbing {
    private final Screen screen;
    private final Profile profile;
    private final Rail rail;
    private final Dictionary dictionary;
    private final Priors priors;
    private boolean warned;
    private boolean over;

    GuidedProbing(Screen screen, Profile profile, Rail rail, Dictionary dictionary, Priors priors) {
        this.screen = screen;
        this.profile = profile;
        this.rail = rail;
        this.dictionary = dictionary;
        this.priors = priors;
    }

    /** Asks until one part is found, every node is read, or the operator has had enough. */
    Readings from(Readings start) {
        screen.say(
                "Readings of " + rail.name() + ": a number in volts (m for milli), Enter to leave one out, q to end.");
        Readings readings = start;
        Set<ProbeNode> asked = EnumSet.noneOf(ProbeNode.class);
        asked.addAll(start.nodes());
        if (!asked.contains(ProbeNode.OUTPUT)) {
            readings = ask(ProbeNode.OUTPUT, readings);
            asked.add(ProbeNode.OUTPUT);
        }
        while (!over) {
            Diagnosis now = Diagnosis.of(dictionary, priors, readings);
            screen.say(DiagnosisText.conclusion(now));
            Optional<ProbeNode> next = now.next().stream()
                    .map(Diagnosis.Advice::node)
                    .filter(node -> !asked.contains(node))
                    .findFirst();
            if (now.found() || next.isEmpty()) {
                break;
            }
            DiagnosisText.next(now).forEach(screen::say);
            asked.add(next.get());
            readings = ask(next.get(), readings);
        }
        return readings;
    }

    private Readings ask(ProbeNode node, Readings readings) {
        if (node.inside() && !warned) {
            warned = true;
            DiagnosisText.cautions(profile).forEach(caution -> screen.say("! " + caution));
        }
        screen.say("At the " + node.words() + ":");
        Readings more = readings;
        for (MeterQuestion question : MeterQuestion.at(node)) {
            if (!over) {
                Optional<Double> answer = answer(question.words());
                if (answer.isPresent()) {
                    more = take(question, answer.get(), more);
                }
            }
        }
        return more;
    }

    private Optional<Double> answer(String words) {
        while (true) {
            screen.say(">>> " + words + ":");
            Optional<String> line = line();
            if (line.isEmpty() || line.get().equalsIgnoreCase("q")) {
                over = true;
                return Optional.empty();
            }
            if (line.get().isEmpty()) {
                return Optional.empty();
            }
            OptionalDouble number = MeterQuestion.number(line.get());
            if (number.isPresent()) {
                return Optional.of(number.getAsDouble());
            }
            screen.say("\"" + line.get() + "\" is no number such as 12.1 or 850m; Enter leaves it out");
        }
    }

    private Optional<String> line() {
        try {
            return Optional.ofNullable(screen.in().readLine()).map(String::strip);
        } catch (IOException e) {
            // no keyboard any more: what was typed so far counts
            return Optional.empty();
        }
    }

    private Readings take(MeterQuestion question, double typed, Readings readings) {
        Optional<Readings> more = question.taken(typed, rail, profile.line(), readings);
        if (more.isEmpty()) {
            screen.say(String.format(
                    Locale.ROOT,
                    "The output %s is not known, so the base says nothing.",
                    question.at().words()));
        }
        return more.orElse(readings);
    }
}
