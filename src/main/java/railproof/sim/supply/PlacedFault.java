package railproof.sim.supply;

import java.util.List;
import java.util.Locale;

/**
 * A fault at a place.
 *
 * @param fault what is wrong
 * @param severityRatio how badly, 0 to 1, as explained beside each {@link Fault}
 * @param railName the rail it sits on; empty for the first rail, or for a fault of the whole unit
 */
public record PlacedFault(Fault fault, double severityRatio, String railName) {
    /** Checks the range and that a fault of the whole unit names no rail. */
    public PlacedFault {
        Require.within("severity of " + fault.label(), severityRatio, 0, 1);
        if (fault.wholeUnit() && !railName.isEmpty()) {
            throw new IllegalArgumentException(
                    fault.label() + " concerns the whole unit; leave out \"@" + railName + "\"");
        }
    }

    /** A fault of default severity on the first rail. */
    public static PlacedFault of(Fault fault) {
        return new PlacedFault(fault, fault.defaultSeverityRatio(), "");
    }

    /**
     * Reads {@code name[:severity][@rail]}, such as {@code reservoir-high-esr:0.3@-12V}. Blanks in a rail's name may be
     * left out: {@code -12V} is the rail "-12 V".
     *
     * @throws IllegalArgumentException if the name is unknown or the severity is no number from 0 to 1; the message
     *     says what is allowed
     */
    public static PlacedFault parse(String text) {
        int at = text.indexOf('@');
        String railName = at < 0 ? "" : text.substring(at + 1).strip();
        if (at >= 0 && railName.isEmpty()) {
            throw new IllegalArgumentException(String.format(
                    Locale.ROOT, "fault \"%s\": no rail name after \"@\"; allowed: name[:severity][@rail]", text));
        }
        String rest = at < 0 ? text : text.substring(0, at);
        int colon = rest.indexOf(':');
        String label = (colon < 0 ? rest : rest.substring(0, colon)).strip();
        Fault fault = Fault.labelled(label)
                .orElseThrow(() -> new IllegalArgumentException(String.format(
                        Locale.ROOT, "unknown fault \"%s\"; allowed: %s", label, String.join(", ", Fault.labels()))));
        double severityRatio = colon < 0
                ? fault.defaultSeverityRatio()
                : number(text, rest.substring(colon + 1).strip());
        return new PlacedFault(fault, severityRatio, railName);
    }

    private static double number(String text, String digits) {
        try {
            return Double.parseDouble(digits);
        } catch (NumberFormatException e) {
            throw new IllegalArgumentException(
                    String.format(
                            Locale.ROOT, "fault \"%s\": severity \"%s\" is no number; allowed: 0 to 1", text, digits),
                    e);
        }
    }

    private static String unspaced(String name) {
        return name.replace(" ", "");
    }

    /** Index of the rail this fault sits on. */
    int railAmong(List<String> names) {
        if (railName.isEmpty()) {
            return 0;
        }
        int rail = names.stream().map(PlacedFault::unspaced).toList().indexOf(unspaced(railName));
        if (rail < 0) {
            throw new IllegalArgumentException(String.format(
                    Locale.ROOT,
                    "fault %s: no rail \"%s\" on this unit; allowed: %s",
                    fault.label(),
                    railName,
                    String.join(", ", names)));
        }
        return rail;
    }

    /** In the form that {@link #parse} reads. */
    public String text() {
        return String.format(
                Locale.ROOT, "%s:%s%s", fault.label(), severityRatio, railName.isEmpty() ? "" : "@" + railName);
    }
}
