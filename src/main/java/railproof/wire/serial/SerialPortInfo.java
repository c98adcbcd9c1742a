package railproof.wire.serial;

import java.util.List;

/**
 * A serial port of this machine.
 *
 * @param systemName the name the system gives it ({@code ttyACM0}, {@code COM7})
 * @param path what to write in a rig file
 * @param description what the driver says it is
 * @param vendorId USB vendor id; -1 if it is no USB port
 * @param productId USB product id; -1 if it is no USB port
 * @param serialNumber USB serial number; empty if there is none
 * @param stablePaths names that stay the same when ports are renumbered (by-id and by-path links); may be empty
 */
public record SerialPortInfo(
        String systemName,
        String path,
        String description,
        int vendorId,
        int productId,
        String serialNumber,
        List<String> stablePaths) {
    public SerialPortInfo {
        stablePaths = List.copyOf(stablePaths);
    }
}
