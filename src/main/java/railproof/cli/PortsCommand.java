package railproof.cli;

import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import railproof.app.ExitStatus;
import railproof.wire.serial.SerialPortInfo;
import railproof.wire.serial.SerialPorts;

/** {@code railproof ports}: what serial ports there are. */
@Command(
        name = "ports",
        mixinStandardHelpOptions = true,
        description = {"Lists the serial ports of this machine, as they are named in a rig file.", ""})
final class PortsCommand implements Callable<Integer> {
    private final Screen screen;

    @Option(names = "--json", description = "print the result as JSON")
    private boolean json;

    PortsCommand(Screen screen) {
        this.screen = screen;
    }

    @Override
    public Integer call() {
        List<SerialPortInfo> ports = SerialPorts.list();
        if (json) {
            screen.out().print(ListJson.ports(ports));
            return ExitStatus.PASSED.code();
        }
        if (ports.isEmpty()) {
            screen.say("No serial port found. Is the board plugged in? On Linux the user must be allowed to open"
                    + " it (as a rule: be in the group dialout).");
        }
        for (SerialPortInfo port : ports) {
            screen.print(port.path() + "  " + port.description() + usb(port));
            port.stablePaths().forEach(path -> screen.print("    always the same: " + path));
        }
        return ExitStatus.PASSED.code();
    }

    private static String usb(SerialPortInfo port) {
        if (port.vendorId() < 0) {
            return "";
        }
        String serial = port.serialNumber().isEmpty() ? "" : ", serial " + port.serialNumber();
        return String.format(Locale.ROOT, "  (USB %04x:%04x%s)", port.vendorId(), port.productId(), serial);
    }
}
