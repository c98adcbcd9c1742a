package railproof.sim.device;

/**
 * State machine, outputs and faults of the simulated board: the part of the firmware that must never fail. Times are
 * ns of the link's clock.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class SafetyCore {
    static final int BOOT = 0;
    static final int SAFE = 1;
    static final int ARMED = 2;
    static final int ACTIVE = 3;
    static final int TRIPPED = 4;

    static final int HOST_SILENT = 0;
    static final int LIMIT_HIGH = 1;
    static final int LIMIT_LOW = 2;
    static final int OVERTEMPERATURE = 3;
    static final int INTERLOCK_OPEN = 4;
    static final int RELAY_MISMATCH = 5;
    static final int ADC_FAULT = 6;
    static final int WATCHDOG_RESET = 7;
    static final int BROWN_OUT = 8;
    static final int INTERNAL = 9;
    static final int NONE = 255;

    private static final int OWN_CAUSES = 1 << OVERTEMPERATURE | 1 << ADC_FAULT | 1 << BROWN_OUT | 1 << INTERNAL;

    static final long NEVER = Long.MAX_VALUE;
    private static final long MS = 1_000_000;

    /** Hears of changes at the instant they happen. */
    interface Listener {
        void stateChanged(int before, int now, long nowNs);

        void tripped(int fault, long nowNs);

        void loadEnableChanged(long nowNs);
    }

    private final BoardSettings settings;
    private final BoardOutputs outputs;
    private final FrontEnd front;
    private final Listener listener;
    private int state = BOOT;
    private int relaysCommanded;
    private int contacts;
    private int stuckMask;
    private int stuckValue;
    private boolean loadEnable;
    private int inputs = 0xFFFF;
    private int causes;
    private int latched;
    private int firstFault = NONE;
    private int faultChannel = NONE;
    private int faultCode;
    private int faultRelays;
    private long faultNs;
    private long token;
    private long timeoutNs;
    private long fedNs;
    private long bootEndNs = NEVER;
    private long releaseNs = NEVER;
    private long settledNs = NEVER;

    SafetyCore(BoardSettings settings, BoardOutputs outputs, FrontEnd front, Listener listener) {
        this.settings = settings;
        this.outputs = outputs;
        this.front = front;
        this.listener = listener;
    }

    /** Reset: everything off at once, then BOOT for a while. Latched faults are forgotten, as RAM is. */
    void boot(long nowNs) {
        front.advanceTo(nowNs);
        switchLoad(false, nowNs);
        relaysCommanded = 0;
        contacts = stuckMask & stuckValue;
        outputs.relays(contacts);
        latched = 0;
        firstFault = NONE;
        faultChannel = NONE;
        token = 0;
        releaseNs = NEVER;
        settledNs = nowNs + settings.relaySettleMs() * MS; // contacts that do not release are found then
        faultCode = 0;
        faultRelays = 0;
        faultNs = 0;
        state = BOOT;
        tripCauses(nowNs);
        bootEndNs = nowNs + settings.bootMs() * MS;
    }

    /** The next instant at which something happens by itself. */
    long nextNs() {
        long silentNs = energised() ? fedNs + timeoutNs : NEVER;
        return Math.min(Math.min(bootEndNs, releaseNs), Math.min(settledNs, silentNs));
    }

    /** When the board may speak by itself because of this part. */
    long nextSpeechNs() {
        return Math.min(energised() ? fedNs + timeoutNs : NEVER, Math.min(bootEndNs, settledNs));
    }

    /** Does what is due now. */
    void advance(long nowNs) {
        if (nowNs >= bootEndNs) {
            bootEndNs = NEVER;
            moveTo(latched == 0 ? SAFE : TRIPPED, nowNs);
        }
        if (nowNs >= releaseNs) {
            releaseNs = NEVER;
            command(0, nowNs);
        }
        if (nowNs >= settledNs) {
            settledNs = NEVER;
            settle(nowNs);
        }
        if (energised() && nowNs - fedNs >= timeoutNs) {
            trip(HOST_SILENT, NONE, 0, nowNs);
        }
    }

    private boolean energised() {
        return state == ARMED || state == ACTIVE;
    }

    private void moveTo(int next, long nowNs) {
        int before = state;
        if (before != next) {
            state = next;
            listener.stateChanged(before, next, nowNs);
        }
    }

    private void settle(long nowNs) {
        front.advanceTo(nowNs);
        contacts = (relaysCommanded & ~stuckMask) | (stuckMask & stuckValue);
        outputs.relays(contacts);
        if (contacts != relaysCommanded) {
            trip(RELAY_MISMATCH, NONE, 0, nowNs);
        }
    }

    private void command(int relays, long nowNs) {
        if (relays != relaysCommanded) {
            relaysCommanded = relays;
            settledNs = nowNs + settings.relaySettleMs() * MS;
        }
    }

    private void switchLoad(boolean on, long nowNs) {
        if (on != loadEnable) {
            front.advanceTo(nowNs);
            loadEnable = on;
            outputs.loadEnable(on);
            listener.loadEnableChanged(nowNs);
        }
    }

    /** Load-enable low at once, relays a little later, so that they do not break current. */
    private void switchOff(long nowNs) {
        switchLoad(false, nowNs);
        token = 0;
        if (relaysCommanded != 0 && releaseNs == NEVER) {
            releaseNs = nowNs + settings.loadOffMs() * MS;
        }
    }

    /** SAFE_STATE: a wish of the host, not a fault. */
    void safe(long nowNs) {
        switchOff(nowNs);
        if (energised()) {
            moveTo(SAFE, nowNs);
        }
    }

    /** Latches a fault and switches off. */
    void trip(int fault, int channel, int code, long nowNs) {
        boolean known = (latched >> fault & 1) != 0;
        if (latched == 0) {
            firstFault = fault;
            faultChannel = channel;
            faultCode = code;
            faultNs = nowNs;
            faultRelays = contacts;
        }
        latched |= 1 << fault;
        switchOff(nowNs);
        if (state != BOOT) {
            moveTo(TRIPPED, nowNs);
        }
        if (!known) {
            listener.tripped(fault, nowNs);
        }
    }

    void arm(long newToken, long newTimeoutNs, long nowNs) {
        token = newToken;
        timeoutNs = newTimeoutNs;
        fedNs = nowNs;
        moveTo(ARMED, nowNs);
    }

    /** Takes a heartbeat; whether it counted. */
    boolean feed(long givenToken, long newTimeoutNs, long nowNs) {
        if (!energised() || givenToken != token) {
            return false;
        }
        fedNs = nowNs;
        if (newTimeoutNs > 0) {
            timeoutNs = newTimeoutNs;
        }
        return true;
    }

    void relays(int mask, int value, long nowNs) {
        command((relaysCommanded & ~mask) | (value & mask), nowNs);
    }

    void load(boolean on, long nowNs) {
        switchLoad(on, nowNs);
        if (energised()) {
            moveTo(on ? ACTIVE : ARMED, nowNs);
        }
    }

    /** Forgets latched faults whose cause is gone; what stays latched. */
    int clear(int bits, long nowNs) {
        latched &= ~(bits & ~active());
        if (latched == 0) {
            firstFault = NONE;
            faultChannel = NONE;
            faultCode = 0;
            faultRelays = 0;
            faultNs = 0;
            if (state == TRIPPED) {
                moveTo(SAFE, nowNs);
            }
        }
        return latched;
    }

    /** Faults whose cause is there now. */
    int active() {
        int open = causes | (openInterlocks() != 0 ? 1 << INTERLOCK_OPEN : 0);
        boolean mismatch = settledNs == NEVER && contacts != relaysCommanded;
        return open | (mismatch ? 1 << RELAY_MISMATCH : 0);
    }

    int openInterlocks() {
        return settings.interlockMask() & ~inputs;
    }

    void input(int index, boolean closed, long nowNs) {
        inputs = closed ? inputs | 1 << index : inputs & ~(1 << index);
        if (energised() && openInterlocks() != 0) {
            trip(INTERLOCK_OPEN, NONE, 0, nowNs);
        }
    }

    /** Causes in the board itself: those of {@code faults} are there, the others gone. */
    void causes(int faults, long nowNs) {
        causes = faults & OWN_CAUSES;
        tripCauses(nowNs);
    }

    private void tripCauses(long nowNs) {
        for (int fault = 0; fault < Integer.SIZE; fault++) {
            if ((causes & ~latched) >> fault == 0) {
                return;
            }
            if (((causes & ~latched) >> fault & 1) != 0) {
                trip(fault, NONE, 0, nowNs);
            }
        }
    }

    /** Makes a relay's contacts stay as given, whatever the coil does. */
    void stick(int relay, boolean closed) {
        stuckMask |= 1 << relay;
        stuckValue = closed ? stuckValue | 1 << relay : stuckValue & ~(1 << relay);
    }

    boolean armedWith(long givenToken) {
        return energised() && givenToken == token;
    }

    int state() {
        return state;
    }

    boolean loadEnable() {
        return loadEnable;
    }

    int contacts() {
        return contacts;
    }

    int relaysCommanded() {
        return relaysCommanded;
    }

    int inputs() {
        return inputs;
    }

    int latched() {
        return latched;
    }

    int firstFault() {
        return firstFault;
    }

    int faultChannel() {
        return faultChannel;
    }

    int faultCode() {
        return faultCode;
    }

    int faultRelays() {
        return faultRelays;
    }

    long faultNs() {
        return faultNs;
    }

    long timeoutNs() {
        return energised() ? timeoutNs : 0;
    }

    long heartbeatAgeNs(long nowNs) {
        return energised() ? nowNs - fedNs : 0;
    }
}
