package railproof.rig.file;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import railproof.rig.file.LinkConfig.Flow;
import railproof.rig.file.LinkConfig.Parity;
import railproof.rig.file.LinkConfig.SerialFormat;
import railproof.rig.file.LinkConfig.UsbId;
import railproof.toml.Labels;
import railproof.toml.TomlSection;

/** Reads {@code [links.NAME]} tables, and sees to it that every link serves exactly one instrument. */
final class LinkReader {
    private static final int MAX_LINKS = 20;

    private enum Kind {
        MEMORY,
        SERIAL,
        TCP,
        UNIX
    }

    private final Map<String, LinkConfig> links = new LinkedHashMap<>();
    private final Map<String, TomlSection> sections;
    private final Map<String, String> users = new LinkedHashMap<>();

    LinkReader(TomlSection root) {
        sections = root.namedTables("links", true, MAX_LINKS);
        sections.forEach((name, section) -> links.put(name, link(name, section)));
    }

    Map<String, LinkConfig> links() {
        return links;
    }

    /** Whether it is known of every link what kind it is. */
    boolean kindsGood() {
        return sections.values().stream().allMatch(section -> section.good("kind"));
    }

    /** Reads the required key {@code link} of an instrument and claims that link for it. */
    String claim(TomlSection instrument, String user) {
        Optional<LinkConfig> link = instrument.reference("link", "link", links);
        if (link.isEmpty()) {
            instrument.missingReference("link", "link");
            return "?";
        }
        String name = link.get().name();
        String other = users.putIfAbsent(name, user);
        if (other != null) {
            instrument.problem(
                    "link", "\"" + name + "\" is the link of " + other + " already; one link serves one instrument");
        }
        return name;
    }

    /** Links nobody uses are mistakes of the file's author. Called when all instruments have been read. */
    void requireAllUsed() {
        sections.forEach((name, section) -> {
            if (!users.containsKey(name)) {
                section.problem("no instrument uses this link");
            }
        });
    }

    private static LinkConfig link(String name, TomlSection section) {
        Kind kind = section.choice("kind", Labels.of(Kind.values()));
        if (!section.good("kind")) {
            section.mayHave(
                    "host", "port", "path", "usb", "usb_serial", "baud", "data_bits", "stop_bits", "parity", "flow");
            return new LinkConfig.Memory(name);
        }
        return switch (kind) {
            case MEMORY -> new LinkConfig.Memory(name);
            case SERIAL -> serial(name, section);
            case TCP -> new LinkConfig.Tcp(name, section.text("host"), section.integer("port", 1, 65535));
            case UNIX -> new LinkConfig.Unix(name, section.text("path"));
        };
    }

    private static LinkConfig serial(String name, TomlSection section) {
        Optional<String> port = section.optionalText("port");
        Optional<String> usb = section.optionalText("usb");
        Optional<String> usbSerial = section.optionalText("usb_serial");
        if (section.has("port") == section.has("usb")) {
            section.problem("needs either port (the device's path) or usb (vendor:product)");
        }
        if (section.has("usb_serial") && !section.has("usb")) {
            section.problem("usb_serial", "belongs to usb");
        }
        return new LinkConfig.Serial(name, port, usb.flatMap(id -> usbId(section, id, usbSerial)), format(section));
    }

    private static Optional<UsbId> usbId(TomlSection section, String id, Optional<String> serial) {
        if (!id.matches("[0-9a-fA-F]{4}:[0-9a-fA-F]{4}")) {
            section.problem(
                    "usb",
                    "must be four hexadecimal digits, a colon and four more, as in \"1209:0001\"; found \"" + id
                            + "\"");
            return Optional.empty();
        }
        return Optional.of(
                new UsbId(Integer.parseInt(id.substring(0, 4), 16), Integer.parseInt(id.substring(5), 16), serial));
    }

    private static SerialFormat format(TomlSection section) {
        return new SerialFormat(
                section.integer("baud", 300, 12_000_000),
                section.integer("data_bits", 7, 8, 8),
                section.integer("stop_bits", 1, 2, 1),
                section.choice("parity", Labels.of(Parity.values()), Parity.NONE),
                section.choice("flow", Labels.of(Flow.values()), Flow.NONE));
    }
}
