package railproof.rig.file;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import railproof.base.Problem;
import railproof.profile.LineRating;
import railproof.profile.Profile;
import railproof.profile.Rail;

/** The single questions of whether a bench can take a type of unit. */
final class BenchFit {
    /** How far the bench's frequency may lie from the unit's: public mains stay well inside. */
    private static final double FREQUENCY_ALLOWANCE_HZ = 0.5;

    private final RigConfig rig;
    private final Profile profile;

    BenchFit(RigConfig rig, Profile profile) {
        this.rig = rig;
        this.profile = profile;
    }

    /** What stands against the unit as a whole: its line, the heat of all its rails. */
    List<Problem> wholeUnit() {
        List<Problem> problems = new ArrayList<>();
        lineVoltage(problems);
        lineFrequency(problems);
        double powerW = profile.rails().stream().mapToDouble(BenchFit::powerW).sum();
        if (powerW > rig.safety().maxPowerW()) {
            problems.add(problem(
                    "rails",
                    say(
                            "all rails at max_probe_current_A make ",
                            powerW,
                            " W; the bench is built for ",
                            rig.safety().maxPowerW(),
                            " W")));
        }
        return problems;
    }

    /** What stands against a rail at a position, in words; empty if nothing does. */
    List<String> against(Rail rail, PositionConfig position) {
        List<String> objections = new ArrayList<>();
        LoadConfig load = rig.load(position.load());
        String itsLoad = " of load \"" + load.name() + "\"";
        overVoltage(
                        rail,
                        position.output().range().fullScaleDimensionless(),
                        " of channel \"" + position.output().name() + "\"")
                .ifPresent(objections::add);
        overVoltage(rail, load.maxVoltageV(), itsLoad).ifPresent(objections::add);
        overVoltage(rail, rig.safety().maxOutputV(), " the bench is built for").ifPresent(objections::add);
        if (rail.ratedCurrentA() > load.maxCurrentA()) {
            objections.add(
                    say("rated_current_A ", rail.ratedCurrentA(), " is above the ", load.maxCurrentA(), " A", itsLoad));
        } else if (rail.maxProbeCurrentA() > load.maxCurrentA()) {
            objections.add(say(
                    "max_probe_current_A ",
                    rail.maxProbeCurrentA(),
                    " is above the ",
                    load.maxCurrentA(),
                    " A",
                    itsLoad));
        }
        if (powerW(rail) > load.maxPowerW()) {
            objections.add(say(
                    "nominal_V at max_probe_current_A makes ",
                    powerW(rail),
                    " W, above the ",
                    load.maxPowerW(),
                    " W",
                    itsLoad));
        }
        if (Math.abs(rail.nominalV()) <= load.minOperatingV()) {
            objections.add(say(
                    "nominal_V ",
                    rail.nominalV(),
                    " is not above the ",
                    load.minOperatingV(),
                    " V at which full current begins",
                    itsLoad));
        }
        return objections;
    }

    Problem problem(String key, String message) {
        return new Problem(profile.id() + " on " + rig.name(), 0, 0, key, message);
    }

    private static Optional<String> overVoltage(Rail rail, double mostV, String ofWhat) {
        return rail.overVoltageV() > mostV
                ? Optional.of(say("over_voltage_V ", rail.overVoltageV(), " is above the ", mostV, " V", ofWhat))
                : Optional.empty();
    }

    private void lineVoltage(List<Problem> problems) {
        LineConfig bench = rig.line();
        LineRating unit = profile.line();
        boolean fixed = bench.feed() instanceof LineConfig.Fixed;
        // without a line sweep the bench only has to lie where the unit must work
        boolean fits = fixed
                ? bench.maxV() >= unit.lowV() && bench.minV() <= unit.highV()
                : bench.minV() <= unit.lowV() && bench.maxV() >= unit.highV();
        if (!fits) {
            problems.add(problem(
                    "line",
                    say(
                            fixed ? "the unit works from " : "the test needs ",
                            unit.lowV(),
                            " to ",
                            unit.highV(),
                            fixed ? " V; the bench has " : " V; the bench can give ",
                            bench.minV(),
                            " to ",
                            bench.maxV(),
                            " V")));
        }
        bench.channel().ifPresent(channel -> {
            double crestV = unit.highV() * Math.sqrt(2);
            double fullScaleV = channel.range().fullScaleDimensionless();
            if (crestV > fullScaleV) {
                problems.add(problem(
                        "line.high_V",
                        say(
                                "the crest of the highest line, ",
                                crestV,
                                " V, is above the ",
                                fullScaleV,
                                " V of channel \"",
                                channel.name(),
                                "\"")));
            }
        });
    }

    private void lineFrequency(List<Problem> problems) {
        double lowHz = rig.line().minFrequencyHz();
        double highHz = rig.line().maxFrequencyHz();
        double unitHz = profile.line().frequencyHz();
        if (unitHz < lowHz - FREQUENCY_ALLOWANCE_HZ || unitHz > highHz + FREQUENCY_ALLOWANCE_HZ) {
            String has = lowHz == highHz ? say(lowHz) : say(lowHz, " to ", highHz);
            problems.add(problem(
                    "line.frequency_Hz", say("the unit is made for ", unitHz, " Hz; the bench has ", has, " Hz")));
        }
    }

    /** The most the rail can turn into heat in the load: the largest current asked for, at nominal voltage. */
    private static double powerW(Rail rail) {
        return Math.abs(rail.nominalV()) * rail.maxProbeCurrentA();
    }

    /** The parts in a row, numbers with at most four decimals. */
    private static String say(Object... parts) {
        StringBuilder text = new StringBuilder();
        for (Object part : parts) {
            text.append(part instanceof Double number ? shown(number) : part);
        }
        return text.toString();
    }

    private static String shown(double value) {
        return String.format(Locale.ROOT, "%.4f", value).replaceAll("\\.?0+$", "");
    }
}
