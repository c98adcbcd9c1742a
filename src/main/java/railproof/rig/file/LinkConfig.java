package railproof.rig.file;

import java.util.Optional;

/** How one instrument is reached. */
public sealed interface LinkConfig {
    /** The name the rig file gives it. */
    String name();

    /** To a simulated instrument in this process. */
    record Memory(String name) implements LinkConfig {}

    /**
     * A serial port, given by its path or by the USB device behind it.
     *
     * @param portPath device path or name; empty if the port is found by USB identity
     * @param usb identity of the USB device; empty if the path is given
     * @param format how bytes travel
     */
    record Serial(String name, Optional<String> portPath, Optional<UsbId> usb, SerialFormat format)
            implements LinkConfig {}

    /**
     * A TCP stream.
     *
     * @param host host name or address
     * @param port 1 to 65535
     */
    record Tcp(String name, String host, int port) implements LinkConfig {}

    /**
     * A Unix-domain stream socket.
     *
     * @param path path of the socket
     */
    record Unix(String name, String path) implements LinkConfig {}

    /**
     * Identity of a USB device.
     *
     * @param vendorId 0 to 65535
     * @param productId 0 to 65535
     * @param serialNumber its serial number; empty if any will do
     */
    record UsbId(int vendorId, int productId, Optional<String> serialNumber) {}

    /**
     * How bytes travel on a serial port. A USB device without a real UART ignores all of it.
     *
     * @param baud bits per second
     * @param dataBits 7 or 8
     * @param stopBits 1 or 2
     * @param parity parity bit
     * @param flow flow control
     */
    record SerialFormat(int baud, int dataBits, int stopBits, Parity parity, Flow flow) {}

    /** Parity of a serial port. */
    enum Parity {
        /** No parity bit. */
        NONE,
        /** Even. */
        EVEN,
        /** Odd. */
        ODD
    }

    /** Flow control of a serial port. */
    enum Flow {
        /** None. */
        NONE,
        /** By the RTS and CTS wires. */
        RTS_CTS,
        /** By XON and XOFF characters; not for the board, whose bytes are binary. */
        XON_XOFF
    }
}
