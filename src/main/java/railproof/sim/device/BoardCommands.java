package railproof.sim.device;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/**
 * What each control request does on the simulated board. Offsets and lengths are those of the protocol page, written
 * down here a second time on purpose.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class BoardCommands {
    /** Checksum of the message table this code was written from; see the protocol page. */
    private static final int TABLE_CRC = 0x0BEA3983;

    private static final int ARM_MAGIC = 0x214D5241;
    private static final int RESET_MAGIC = 0x54455352;
    private static final int HEARTBEAT_MIN_MS = 200;
    private static final int HEARTBEAT_MAX_MS = 2000;
    /** SIMULATED, CAPTURE, LIMITS, LEVEL_TRIGGER, STREAM, STORE, SELF_TEST. */
    private static final int FEATURES = 0b111_1111;
    /** Of one channel alone. */
    private static final int MAX_RATE_HZ = 200_000;

    private final SimulatedBoard.Device device;
    private final BoardSettings settings;
    private final SafetyCore core;
    private int resetCause;
    private long bootId = 1;
    private int tokenSeed;
    private int arms;
    private boolean resetAsked;

    BoardCommands(SimulatedBoard.Device device) {
        this.device = device;
        this.settings = device.settings();
        this.core = device.core();
    }

    void restart(int cause, long newBootId, int newTokenSeed) {
        resetCause = cause;
        bootId = newBootId;
        tokenSeed = newTokenSeed;
        arms = 0;
        resetAsked = false;
    }

    long bootId() {
        return bootId;
    }

    boolean takeResetAsked() {
        boolean asked = resetAsked;
        resetAsked = false;
        return asked;
    }

    private static byte[] text(String value, int length) {
        return Arrays.copyOf(value.getBytes(StandardCharsets.UTF_8), length);
    }

    private void requireBooted() {
        if (core.state() == SafetyCore.BOOT) {
            throw new Refusal(Refusal.BAD_STATE, SafetyCore.BOOT);
        }
    }

    private void requireNotTripped() {
        requireBooted();
        if (core.state() == SafetyCore.TRIPPED) {
            throw new Refusal(Refusal.FAULT_LATCHED, core.firstFault());
        }
    }

    private void requireToken(int token) {
        if (!core.armedWith(token & 0xFFFFFFFFL)) {
            throw new Refusal(Refusal.NOT_ARMED, 0);
        }
    }

    byte[] identify(ByteBuffer in) {
        int min = in.getShort(0) & 0xFFFF;
        int max = in.getShort(2) & 0xFFFF;
        if (min > 1 || max < 1) {
            throw new Refusal(Refusal.VERSION, 1);
        }
        return Payloads.out(68)
                .putShort((short) 1)
                .putShort((short) 0)
                .put(text(settings.model(), 16))
                .put(text(settings.serial(), 16))
                .put(text("sim 1.0", 24))
                .putInt((int) bootId)
                .putInt(TABLE_CRC)
                .array();
    }

    byte[] capability() {
        int channels = settings.channels().size();
        return Payloads.out(52)
                .putShort((short) settings.maxPayload())
                .putShort((short) 8192)
                .put((byte) 2)
                .put((byte) channels)
                .put((byte) settings.relayCount())
                .put((byte) 16)
                .putInt((int) SimulatedBoard.TICKS_PER_MS * 1000)
                .putInt(settings.bufferSamples())
                .putInt(MAX_RATE_HZ)
                .putInt(SimulatedBoard.MIN_PERIOD_TICKS)
                .put((byte) AdcChannel.BITS)
                .put((byte) 0)
                .putShort((short) HEARTBEAT_MIN_MS)
                .putShort((short) HEARTBEAT_MAX_MS)
                .putShort((short) settings.loadOffMs())
                .putShort((short) settings.relaySettleMs())
                .putShort((short) settings.interlockMask())
                .putInt(settings.hotRelays())
                .putInt((int) LimitWatch.PERIOD_US)
                .putInt(FEATURES)
                .putShort((short) RecordStore.ROOM)
                .putShort((short) 0)
                .array();
    }

    byte[] channelInfo(ByteBuffer in) {
        int index = in.get(0) & 0xFF;
        Refusal.unless(index < settings.channels().size(), 0);
        AdcChannel channel = settings.channels().get(index);
        return Payloads.out(24)
                .put((byte) index)
                .put((byte) AdcChannel.BITS)
                .putShort((short) 0)
                .putInt((int) Math.round(channel.lowV() * 1e6))
                .putInt((int) Math.round(channel.highV() * 1e6))
                .put(text(channel.name(), 12))
                .array();
    }

    private ByteBuffer statusInto(ByteBuffer out, long nowNs) {
        return out.put((byte) core.state())
                .put((byte) (core.loadEnable() ? 1 : 0))
                .putShort((short) core.inputs())
                .putInt(core.contacts())
                .putInt((int) bootId)
                .putInt(core.latched())
                .putLong(device.time().ticks(nowNs));
    }

    byte[] heartbeat(ByteBuffer in, long nowNs) {
        int timeoutMs = in.getShort(0) & 0xFFFF;
        Refusal.unless(timeoutMs == 0 || timeoutInRange(timeoutMs), 0);
        boolean fed = core.feed(in.getInt(4) & 0xFFFFFFFFL, timeoutMs * 1_000_000L, nowNs);
        return statusInto(Payloads.out(28), nowNs)
                .put((byte) (fed ? 1 : 0))
                .put((byte) 0)
                .putShort((short) 0)
                .array();
    }

    private static boolean timeoutInRange(int timeoutMs) {
        return timeoutMs >= HEARTBEAT_MIN_MS && timeoutMs <= HEARTBEAT_MAX_MS;
    }

    byte[] clock(ByteBuffer in, long nowNs) {
        long ticks = device.time().ticks(nowNs);
        return Payloads.out(24)
                .putLong(in.getLong(0))
                .putLong(ticks)
                .putLong(ticks)
                .array();
    }

    byte[] status(long nowNs) {
        int captureState = device.sampler().capture().map(Capture::state).orElse(Capture.IDLE);
        return statusInto(Payloads.out(40), nowNs)
                .putInt(core.relaysCommanded())
                .put((byte) resetCause)
                .put((byte) core.firstFault())
                .put((byte) captureState)
                .put((byte) 0)
                .putShort((short) (core.timeoutNs() / 1_000_000))
                .putShort((short) 0)
                .putInt((int) (core.heartbeatAgeNs(nowNs) / 1_000_000))
                .array();
    }

    byte[] arm(ByteBuffer in, long nowNs) {
        requireNotTripped();
        if (core.state() != SafetyCore.SAFE) {
            throw new Refusal(Refusal.BAD_STATE, core.state());
        }
        Refusal.unless(in.getInt(0) == ARM_MAGIC, 0);
        int timeoutMs = in.getShort(8) & 0xFFFF;
        Refusal.unless(timeoutInRange(timeoutMs), 8);
        if (core.openInterlocks() != 0) {
            throw new Refusal(Refusal.INTERLOCK, core.openInterlocks());
        }
        if (core.relaysCommanded() != 0 || core.contacts() != 0) {
            throw new Refusal(Refusal.BUSY, 0);
        }
        // upper half: counts the arms, so that no token comes twice; lower half: depends on the nonce
        arms++;
        int mixed = (tokenSeed ^ in.getInt(4)) * 0x9E3779B1;
        long token = Math.max(1, (arms + (tokenSeed >>> 16) & 0xFFFFL) << 16 | mixed >>> 16);
        core.arm(token, timeoutMs * 1_000_000L, nowNs);
        return Payloads.out(4).putInt((int) token).array();
    }

    byte[] safeState(long nowNs) {
        core.safe(nowNs);
        return statusInto(Payloads.out(24), nowNs).array();
    }

    byte[] faultRead() {
        return Payloads.out(28)
                .putInt(core.latched())
                .putInt(core.active())
                .put((byte) core.firstFault())
                .put((byte) core.faultChannel())
                .putShort((short) 0)
                .putInt(core.faultCode())
                .putLong(core.latched() == 0 ? 0 : device.time().ticks(core.faultNs()))
                .putInt(core.faultRelays())
                .array();
    }

    byte[] faultClear(ByteBuffer in, long nowNs) {
        requireBooted();
        return Payloads.out(4).putInt(core.clear(in.getInt(0), nowNs)).array();
    }

    byte[] limitSet(ByteBuffer in) {
        requireNotTripped();
        int channel = in.get(0) & 0xFF;
        int low = in.getInt(4);
        int high = in.getInt(8);
        long delayUs = in.getInt(12) & 0xFFFFFFFFL;
        Refusal.unless(channel < settings.channels().size(), 0);
        Refusal.unless((in.get(1) & 0xFF) <= 1, 1);
        Refusal.unless(low >= Short.MIN_VALUE && low <= Short.MAX_VALUE, 4);
        Refusal.unless(high >= low && high <= Short.MAX_VALUE, 8);
        Refusal.unless(delayUs <= 1_000_000, 12);
        long inForceUs = device.limits().set(channel, in.get(1) != 0, low, high, delayUs);
        return Payloads.out(16)
                .put((byte) channel)
                .put(in.get(1))
                .putShort((short) 0)
                .putInt(low)
                .putInt(high)
                .putInt((int) inForceUs)
                .array();
    }

    byte[] relaySet(ByteBuffer in, long nowNs) {
        requireNotTripped();
        int mask = in.getInt(0);
        Refusal.unless((mask & ~settings.relayMask()) == 0, 0);
        requireToken(in.getInt(8));
        if (core.state() == SafetyCore.ACTIVE && (mask & ~settings.hotRelays()) != 0) {
            throw new Refusal(Refusal.BAD_STATE, SafetyCore.ACTIVE);
        }
        core.relays(mask, in.getInt(4), nowNs);
        return Payloads.out(12)
                .putInt(core.relaysCommanded())
                .putInt(core.contacts())
                .putShort((short) settings.relaySettleMs())
                .putShort((short) 0)
                .array();
    }

    byte[] loadEnableSet(ByteBuffer in, long nowNs) {
        int on = in.get(0) & 0xFF;
        Refusal.unless(on <= 1, 0);
        if (on == 1) {
            requireNotTripped();
            requireToken(in.getInt(4));
            if (core.contacts() != core.relaysCommanded()) {
                throw new Refusal(Refusal.BUSY, 0);
            }
        }
        core.load(on == 1, nowNs);
        return statusInto(Payloads.out(24), nowNs).array();
    }

    byte[] reset(ByteBuffer in) {
        requireBooted();
        if (core.state() == SafetyCore.ARMED || core.state() == SafetyCore.ACTIVE) {
            throw new Refusal(Refusal.BAD_STATE, core.state());
        }
        Refusal.unless(in.getInt(0) == RESET_MAGIC, 0);
        resetAsked = true;
        return new byte[0];
    }
}
