package railproof.wire.serial;

/**
 * How a serial port is opened. For a board with native USB the line settings mean nothing, but are sent all the same.
 *
 * @param port path ({@code /dev/ttyACM0}, a by-id link, {@code COM7}) or {@code usb:VVVV:PPPP} or
 *     {@code usb:VVVV:PPPP:SERIAL} with vendor and product id in hexadecimal
 * @param baud bits per second; 300 to 12 000 000
 * @param dataBits 5 to 8
 * @param parity parity bit
 * @param stopBits 1 or 2
 * @param flow flow control
 * @param raiseDtrRts whether DTR and RTS are raised on opening. Raising resets boards that have auto-reset wiring; some
 *     loads will not talk without it
 */
public record SerialSettings(
        String port, int baud, int dataBits, Parity parity, int stopBits, Flow flow, boolean raiseDtrRts) {
    /** Parity bit. */
    public enum Parity {
        /** No parity bit. */
        NONE,
        /** Even parity. */
        EVEN,
        /** Odd parity. */
        ODD
    }

    /** Flow control. */
    public enum Flow {
        /** None. */
        NONE,
        /** By the RTS and CTS lines. */
        RTS_CTS,
        /** By XON and XOFF; for text only. */
        XON_XOFF
    }

    public SerialSettings {
        if (port.isBlank()) {
            throw new IllegalArgumentException("the port's path must not be blank");
        }
        requireRange("baud", baud, 300, 12_000_000);
        requireRange("data bits", dataBits, 5, 8);
        requireRange("stop bits", stopBits, 1, 2);
    }

    private static void requireRange(String what, int value, int min, int max) {
        if (value < min || value > max) {
            throw new IllegalArgumentException(what + " must be " + min + " to " + max + ", got " + value);
        }
    }

    /** The measuring board's line: 1 Mbaud 8N1, no flow control, DTR and RTS left low. */
    public static SerialSettings board(String port) {
        return new SerialSettings(port, 1_000_000, 8, Parity.NONE, 1, Flow.NONE, false);
    }

    /** A text instrument's line: 8N1, no flow control, DTR and RTS raised. */
    public static SerialSettings text(String port, int baud) {
        return new SerialSettings(port, baud, 8, Parity.NONE, 1, Flow.NONE, true);
    }
}
