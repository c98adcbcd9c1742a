package railproof.cli;

import java.io.IOException;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.diagnosis.Condition;
import railproof.diagnosis.Diagnosis;
import railproof.diagnosis.Dictionary;
import railproof.diagnosis.Feature;
import railproof.diagnosis.Priors;
import railproof.diagnosis.ProbeNode;
import railproof.diagnosis.Readings;
import railproof.diagnosis.Sight;
import railproof.profile.Profile;
import railproof.profile.Rail;
import railproof.report.DiagnosisText;

/**
 * Asks at the keyboard for a meter's readings, node by node, the most telling node first; says after each what is believed
 * now. Cautions come before the first question that takes the cover off.
 */
final class GuidedProbing {
    private static final Pattern NUMBER =
            Pattern.compile("([-+]?(?:\\d+\\.?\\d*|\\.\\d+)(?:[eE][-+]?\\d+)?)\\s*([mµuk]?)[VA]?");
    private static final double METER_RATIO = 0.005;
    private static final double RIPPLE_RATIO = 0.05;
    private static final Condition[] CONDITIONS = {Condition.NO_LOAD, Condition.FULL_LOAD};

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
        for (Question question : questions(node)) {
            if (!over) {
                Optional<Double> answer = answer(question.words());
                if (answer.isPresent()) {
                    more = take(question, answer.get(), more);
                }
            }
        }
        return more;
    }

    private record Question(Sight sight, Condition at, String words) {}

    private List<Question> questions(ProbeNode node) {
        return switch (node) {
            case OUTPUT ->
                both(
                        Sight.OUTPUT,
                        "output, d.c.",
                        Sight.OUTPUT_RIPPLE,
                        "ripple p-p (oscilloscope; or 3.3 times an r.m.s. meter)");
            case RAW ->
                both(Sight.RAW, "reservoir, d.c.", Sight.RAW_RIPPLE, "its ripple p-p (or 3.3 times an r.m.s. meter)");
            case BASE -> each(Sight.BASE, "pass stage's base against common, d.c.");
            case REFERENCE -> each(Sight.REFERENCE, "reference, d.c.");
            case SENSE_TAP -> each(Sight.SENSE_TAP, "sense tap, d.c.");
            case HEAT_SINK ->
                List.of(new Question(Sight.HEAT_SINK, Condition.WARM, "heat sink after half an hour at full load, °C"));
            case LINE -> List.of(new Question(Sight.LINE, Condition.FULL_LOAD, "line, V r.m.s."));
            case LOAD_TESTS ->
                List.of(new Question(
                        Sight.LIMIT, Condition.FULL_LOAD, "load current at which the output has fallen by 5 %, A"));
        };
    }

    private static List<Question> each(Sight sight, String words) {
        return List.of(
                new Question(sight, CONDITIONS[0], words + " " + CONDITIONS[0].words()),
                new Question(sight, CONDITIONS[1], words + " " + CONDITIONS[1].words()));
    }

    private static List<Question> both(Sight level, String levelWords, Sight ripple, String rippleWords) {
        return List.of(
                new Question(level, CONDITIONS[0], levelWords + " " + CONDITIONS[0].words()),
                new Question(level, CONDITIONS[1], levelWords + " " + CONDITIONS[1].words()),
                new Question(ripple, CONDITIONS[1], rippleWords + " " + CONDITIONS[1].words()));
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
            Matcher number = NUMBER.matcher(line.get().replace(',', '.'));
            if (number.matches()) {
                double scale =
                        switch (number.group(2)) {
                            case "m" -> 1e-3;
                            case "µ", "u" -> 1e-6;
                            case "k" -> 1e3;
                            default -> 1;
                        };
                return Optional.of(scale * Double.parseDouble(number.group(1)));
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

    private Readings take(Question question, double typed, Readings readings) {
        double sign = Math.signum(rail.nominalV());
        double value = typed;
        double u = METER_RATIO * Math.abs(typed);
        switch (question.sight()) {
            case OUTPUT, RAW, REFERENCE, SENSE_TAP -> value = sign * typed;
            case LINE -> {
                value = typed / profile.line().nominalV();
                u = METER_RATIO * value;
            }
            case BASE -> {
                Optional<Measured> output = readings.of(Sight.OUTPUT, question.at());
                if (output.isEmpty()) {
                    screen.say(String.format(
                            Locale.ROOT,
                            "The output %s is not known, so the base says nothing.",
                            question.at().words()));
                    return readings;
                }
                value = sign * typed - output.get().value();
                u = METER_RATIO * Math.sqrt(2) * Math.abs(typed);
            }
            default -> u = RIPPLE_RATIO * Math.abs(typed);
        }
        Unit unit = question.sight().unit();
        Optional<Feature> feature = Feature.of(question.sight(), question.at());
        return feature.isPresent() ? readings.with(feature.get(), Measured.of(value, u, unit)) : readings;
    }
}
