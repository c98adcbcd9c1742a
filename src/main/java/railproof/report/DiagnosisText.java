package railproof.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.diagnosis.Diagnosis;
import railproof.diagnosis.Diagnosis.Advice;
import railproof.diagnosis.Diagnosis.PartSuspect;
import railproof.diagnosis.Evidence;
import railproof.diagnosis.Evidence.RangeOf;
import railproof.diagnosis.PartFit;
import railproof.diagnosis.PartFit.Fitted;
import railproof.profile.PartValue;
import railproof.profile.Profile;
import railproof.profile.Rail;

/** A diagnosis as plain text for a terminal, at most 100 columns wide. Pure. */
public final class DiagnosisText {
    private static final int SHOWN_SUSPECTS = 5;
    private static final double SHOWN_RATIO = 0.01;
    private static final double WORTH_BITS = 0.02;
    private static final double OPEN_RATIO = 0.03;
    private static final List<Integer> WIDTHS = List.of(4, 14, 66, 9);
    private static final List<Integer> FIT_WIDTHS = List.of(30, 26, 40);

    private DiagnosisText() {}

    /** Suspects, evidence, advice, fitted parts; ends with a line end. */
    public static String text(Rail rail, Diagnosis diagnosis, PartFit.Result fitted) {
        TextTable table = new TextTable(WIDTHS);
        table.remark(
                0,
                "Rail " + rail.name() + ", from "
                        + diagnosis.readings().values().size() + " readings at: "
                        + diagnosis.readings().nodes().stream()
                                .sorted()
                                .map(node -> node.words())
                                .collect(Collectors.joining(", ")));
        rough(rail).forEach(line -> table.remark(0, line));
        table.rule()
                .row(List.of("", "Stage", "Part, and what is wrong with it", "Prob."))
                .rule();
        table.row(List.of("", "", "nothing wrong", percent(diagnosis.soundRatio())));
        List<PartSuspect> shown = diagnosis.suspects().stream()
                .limit(SHOWN_SUSPECTS)
                .filter(s -> s.probabilityRatio() >= SHOWN_RATIO)
                .toList();
        for (int i = 0; i < shown.size(); i++) {
            PartSuspect suspect = shown.get(i);
            table.row(List.of(
                    (i + 1) + ".",
                    suspect.part().stage().words(),
                    suspect.words(),
                    percent(suspect.probabilityRatio())));
            suspect.evidence().forEach(evidence -> table.remark(5, evidence(evidence)));
            if (suspect.evidence().isEmpty()) {
                table.remark(5, together(suspect));
            }
        }
        table.rule().remark(0, conclusion(diagnosis));
        doubts(diagnosis).forEach(doubt -> table.remark(0, doubt));
        next(diagnosis).forEach(line -> table.remark(0, line));
        return table + fitted(fitted);
    }

    /** What all readings say together of a suspect that none of them speaks for or against. */
    public static String together(PartSuspect suspect) {
        double timesSoundRatio = suspect.timesSoundRatio();
        if (timesSoundRatio > 0.5 && timesSoundRatio < 2) {
            return "nothing read so far speaks for or against it: it is suspected as much as before, and no more";
        }
        boolean more = timesSoundRatio >= 2;
        double times = more ? timesSoundRatio : 1 / timesSoundRatio;
        return "no reading speaks for or against it by itself; all together they are "
                + (times > 1000 ? "more than 1000" : String.format(Locale.ROOT, "%.2g", times))
                + (more
                        ? " times as probable with this fault as in a sound unit"
                        : " times less probable with this fault than in a sound unit");
    }

    /** What a diagnosis of a rail without part values rests on; empty if the profile states them. */
    public static List<String> rough(Rail rail) {
        return rail.parts().isEmpty()
                ? List.of("The profile states no part values: typical ones are assumed, so this is a rough guide.")
                : List.of();
    }

    /** What has to be said where nothing the catalogue knows gives these readings; else empty. */
    public static List<String> doubts(Diagnosis diagnosis) {
        return diagnosis.unexplained()
                ? List.of("Neither a sound unit nor any one fault of the catalogue explains these readings well: two"
                        + " faults at once, a fault it does not have, or a wrong reading.")
                : List.of();
    }

    /** One sentence: what the readings carry, and no more. */
    public static String conclusion(Diagnosis diagnosis) {
        PartSuspect first = diagnosis.suspects().get(0);
        if (diagnosis.sound()) {
            String open = diagnosis.suspects().stream()
                    .filter(s -> s.probabilityRatio() >= OPEN_RATIO)
                    .map(s -> s.part().words())
                    .collect(Collectors.joining(", "));
            return "Nothing read so far is unlike a sound unit (" + percent(diagnosis.soundRatio()) + ")."
                    + (open.isEmpty() ? "" : " Not shown to be good by these readings: " + open + ".");
        }
        if (diagnosis.found()) {
            return "Most probably: " + first.words() + " (" + percent(first.probabilityRatio()) + ").";
        }
        if (!diagnosis.alike().isEmpty()) {
            return "These readings do not tell apart: "
                    + diagnosis.alike().stream().map(s -> s.part().words()).collect(Collectors.joining(", "))
                    + ".";
        }
        return "Leading suspect: " + first.words() + " (" + percent(first.probabilityRatio()) + "); not sure yet.";
    }

    /** Where to probe next, if it is worth it. */
    public static List<String> next(Diagnosis diagnosis) {
        List<Advice> worth = diagnosis.next().stream()
                .filter(advice -> advice.bitsDimensionless() >= WORTH_BITS)
                .limit(3)
                .toList();
        if (worth.isEmpty()) {
            return diagnosis.next().isEmpty()
                    ? List.of("Every node has been read.")
                    : List.of("No other node would be expected to tell more.");
        }
        List<String> lines = new ArrayList<>();
        lines.add("Probe next: "
                + worth.stream()
                        .map(advice -> advice.node().words()
                                + String.format(Locale.ROOT, " (%.2f bit)", advice.bitsDimensionless()))
                        .collect(Collectors.joining(", then "))
                + ".");
        return lines;
    }

    /** What has to be said before anybody takes the cover off. */
    public static List<String> cautions(Profile profile) {
        List<String> cautions = new ArrayList<>();
        cautions.add("Inside an open supply: the mains side, the transformer and the capacitors can kill. Only people"
                + " trained and, where the law asks for it, licensed; local codes come first.");
        cautions.add("Isolating transformer and residual-current device before the unit; a variac does not isolate. One"
                + " hand, insulated probe, nothing metal on you.");
        cautions.add(
                "Connect the probe with the line off and the capacitors measured to be down; they hold their charge"
                        + " and some of it comes back.");
        cautions.add("Heat sinks are hot and, on many old units, live.");
        if (profile.rails().stream().anyMatch(Rail::hazardousLive)) {
            cautions.add("HAZARDOUS LIVE: a rail of this unit can exceed 60 V d.c., its raw side more than that.");
        }
        cautions.addAll(profile.cautions());
        return cautions;
    }

    /** One reading for or against a suspect, beside what sound units and units with that fault show. */
    public static String evidence(Evidence e) {
        Unit unit = e.feature().sight().unit();
        String value =
                Quantities.withUncertainty(e.value().value(), 2 * e.value().standardU(), unit);
        String way = e.speaksFor() ? "for" : "against";
        if (e.besideOthers()) {
            return way + ", beside the others: " + e.feature().words() + " " + value
                    + "; with the other readings a sound unit" + " would show " + range(e.sound(), unit)
                    + ", this fault " + range(e.fault(), unit);
        }
        return way + ": " + e.feature().words() + " " + value + "; sound units " + range(e.sound(), unit)
                + ", this fault " + range(e.fault(), unit);
    }

    private static String range(RangeOf range, Unit unit) {
        return rounded(range.lowDimensionless(), unit) + " to " + rounded(range.highDimensionless(), unit);
    }

    private static String rounded(double value, Unit unit) {
        // what the model says is not known better than to three digits
        double shown = value == 0 ? 0 : Double.parseDouble(String.format(Locale.ROOT, "%.3g", value));
        return Quantities.plain(Math.abs(shown) < 1e-6 ? 0 : shown, unit);
    }

    private static String fitted(PartFit.Result fitted) {
        if (fitted.refused()) {
            return "No part values are fitted: none, with the first suspect bad, give these readings.\n";
        }
        if (fitted.parts().isEmpty() && fitted.loopGain().isEmpty()) {
            return "";
        }
        TextTable table = new TextTable(FIT_WIDTHS);
        table.row(List.of("Fitted part", "Value ± U", "Circuit diagram")).rule();
        for (Fitted part : fitted.parts()) {
            table.row(List.of(
                    name(part.part()),
                    Quantities.withUncertainty(
                            part.fitted().value(),
                            2 * part.fitted().standardU(),
                            part.fitted().unit()),
                    Quantities.plain(part.nominalDimensionless(), part.fitted().unit())
                            + String.format(Locale.ROOT, " ± %.3g %%", 100 * part.toleranceRatio())
                            + (part.outside() ? ": outside" : "")));
        }
        fitted.loopGain()
                .ifPresent(gain -> table.row(List.of(
                        "loop gain at full load",
                        gain(gain.fitted()),
                        String.format(Locale.ROOT, "%.2g with nominal parts", gain.nominalDimensionless()))));
        return table.rule().toString();
    }

    /** A gain with its expanded uncertainty, by the decimals that has. */
    private static String gain(Measured gain) {
        String digits = gain.standardU() < 1 ? "%.1f ± %.1f" : "%.0f ± %.0f";
        return String.format(Locale.ROOT, digits, gain.value(), 2 * gain.standardU());
    }

    private static String name(PartValue value) {
        return switch (value) {
            case RESERVOIR -> "reservoir";
            case RESERVOIR_ESR -> "reservoir, series resistance";
            case WINDING -> "source and winding resistance";
            case SENSE -> "current-sense resistor";
            case REFERENCE -> "reference";
            case BASE_FEED -> "base feed resistor";
            case DIVIDER_UPPER -> "upper divider resistor";
            default -> value.key();
        };
    }

    /** A probability as people say it. */
    public static String percent(double ratio) {
        if (ratio > 0.995) {
            return "> 99 %";
        }
        return ratio < 0.005 ? "< 1 %" : String.format(Locale.ROOT, "%.0f %%", 100 * ratio);
    }
}
