package railproof.wire.serial;

import com.fazecast.jSerialComm.SerialPort;
import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import railproof.wire.LinkDownException;

/**
 * The serial ports of this machine.
 *
 * <p>Thread: any. The library frees its records of closed ports while it lists, so listing, opening and closing take
 * turns.
 */
public final class SerialPorts {
    /** Listing, opening and closing take turns on this. */
    static final Object TURN = new Object();

    private static final List<Path> STABLE_NAMES =
            List.of(Path.of("/dev/serial/by-id"), Path.of("/dev/serial/by-path"));
    private static final String LIBRARY_ID = "fazecast.jSerialComm.appid";

    private SerialPorts() {}

    /**
     * To be called before any first use of the library: two programs that carry different versions of it otherwise
     * disturb each other, because both unpack their native part into the same temporary folder.
     */
    static void prepareLibrary() {
        if (System.getProperty(LIBRARY_ID) == null) {
            System.setProperty(LIBRARY_ID, "railproof");
        }
    }

    /** All ports, by name. Pseudo-terminals are not listed, but can be opened by their path. */
    public static List<SerialPortInfo> list() {
        prepareLibrary();
        synchronized (TURN) {
            return Arrays.stream(SerialPort.getCommPorts())
                    .map(SerialPorts::info)
                    .sorted(Comparator.comparing(SerialPortInfo::systemName))
                    .toList();
        }
    }

    private static SerialPortInfo info(SerialPort port) {
        String serial = port.getSerialNumber();
        return new SerialPortInfo(
                port.getSystemPortName(),
                port.getSystemPortPath(),
                port.getPortDescription(),
                port.getVendorID(),
                port.getProductID(),
                serial == null || serial.equals("Unknown") ? "" : serial,
                stablePaths(port.getSystemPortPath()));
    }

    private static List<String> stablePaths(String path) {
        List<String> names = new ArrayList<>();
        for (Path folder : STABLE_NAMES) {
            if (!Files.isDirectory(folder)) {
                continue;
            }
            try (DirectoryStream<Path> links = Files.newDirectoryStream(folder)) {
                for (Path link : links) {
                    if (link.toRealPath().equals(Path.of(path).toRealPath())) {
                        names.add(link.toString());
                    }
                }
            } catch (IOException e) {
                // a port that goes away while we look simply has no stable name
                System.getLogger(SerialPorts.class.getName()).log(System.Logger.Level.DEBUG, "reading " + folder, e);
            }
        }
        names.sort(Comparator.naturalOrder());
        return names;
    }

    /**
     * The path of a port written as in {@link SerialSettings}.
     *
     * @throws LinkDownException if no port, or more than one, fits; lists what is there
     */
    static String resolve(String linkName, String port) throws LinkDownException {
        if (!port.startsWith("usb:")) {
            return port;
        }
        String wanted = port.toLowerCase(Locale.ROOT);
        List<SerialPortInfo> all = list();
        List<SerialPortInfo> fitting = all.stream()
                .filter(p -> wanted.equals(usbName(p, false)) || wanted.equals(usbName(p, true)))
                .toList();
        if (fitting.size() == 1) {
            return fitting.get(0).path();
        }
        throw new LinkDownException(
                linkName,
                (fitting.isEmpty() ? "no port fits " : fitting.size() + " ports fit ") + port + "; there are: "
                        + (all.isEmpty()
                                ? "none"
                                : String.join(
                                        ", ",
                                        all.stream()
                                                .map(p -> p.path() + " (" + usbName(p, true) + ")")
                                                .toList())));
    }

    private static String usbName(SerialPortInfo port, boolean withSerial) {
        if (port.vendorId() < 0) {
            return "not USB";
        }
        String ids = String.format(Locale.ROOT, "usb:%04x:%04x", port.vendorId(), port.productId());
        return withSerial ? ids + ":" + port.serialNumber().toLowerCase(Locale.ROOT) : ids;
    }
}
