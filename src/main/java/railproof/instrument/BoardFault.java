package railproof.instrument;

import java.util.Set;
import java.util.TreeSet;

/** What makes the board trip. The ordinal is the bit number on the wire. */
enum BoardFault {
    HOST_SILENT,
    LIMIT_HIGH,
    LIMIT_LOW,
    OVERTEMPERATURE,
    INTERLOCK_OPEN,
    RELAY_MISMATCH,
    ADC_FAULT,
    WATCHDOG_RESET,
    BROWN_OUT,
    INTERNAL;

    /** Names of the faults in a mask; a bit without a name shows as {@code FAULT_n}. */
    static Set<String> names(long bits) {
        Set<String> names = new TreeSet<>();
        for (int bit = 0; bit < 32; bit++) {
            if ((bits >> bit & 1) != 0) {
                names.add(bit < values().length ? values()[bit].name() : "FAULT_" + bit);
            }
        }
        return names;
    }
}
