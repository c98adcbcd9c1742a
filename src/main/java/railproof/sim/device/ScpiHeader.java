package railproof.sim.device;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A header as the device's command tree holds it, written the standard's way: {@code [:SOURce]:CURRent[:LEVel]}.
 * Capitals are the short form, brackets may be left out; case does not matter, nothing between short and long form is
 * taken (SCPI-1999 volume 1, 6.2.1 and 6.2.2, from memory). A numeric suffix 1 is the default and may be given.
 */
final class ScpiHeader {
    private static final Pattern NODE = Pattern.compile("(\\[)?:?([A-Za-z]+)\\]?");
    private static final Pattern MNEMONIC = Pattern.compile("([A-Z][A-Z_]*)(\\d*)");

    private record Node(String shortForm, String longForm, boolean optional) {
        boolean accepts(String mnemonic) {
            return mnemonic.equals(shortForm) || mnemonic.equals(longForm);
        }
    }

    private final List<Node> nodes = new ArrayList<>();

    ScpiHeader(String pattern) {
        Matcher matcher = NODE.matcher(pattern);
        while (matcher.find()) {
            String word = matcher.group(2);
            String shortForm = word.chars()
                    .filter(Character::isUpperCase)
                    .collect(StringBuilder::new, StringBuilder::appendCodePoint, StringBuilder::append)
                    .toString();
            nodes.add(new Node(shortForm, word.toUpperCase(Locale.ROOT), matcher.group(1) != null));
        }
    }

    /** Splits a header without its question mark into upper-case mnemonics without suffix 1. */
    static List<String> mnemonics(String header) throws ScpiRefusal {
        List<String> words = new ArrayList<>();
        for (String part : header.toUpperCase(Locale.ROOT).split(":", -1)) {
            Matcher matcher = MNEMONIC.matcher(part);
            if (!matcher.matches()) {
                throw new ScpiRefusal(-102, "Syntax error");
            }
            if (!matcher.group(2).isEmpty() && !matcher.group(2).equals("1")) {
                throw new ScpiRefusal(-114, "Header suffix out of range");
            }
            words.add(matcher.group(1));
        }
        return words;
    }

    boolean matches(List<String> mnemonics) {
        return matches(mnemonics, 0, 0);
    }

    private boolean matches(List<String> mnemonics, int word, int node) {
        if (node == nodes.size()) {
            return word == mnemonics.size();
        }
        Node next = nodes.get(node);
        boolean taken =
                word < mnemonics.size() && next.accepts(mnemonics.get(word)) && matches(mnemonics, word + 1, node + 1);
        return taken || (next.optional() && matches(mnemonics, word, node + 1));
    }
}
