package railproof.sim.device;

import java.nio.ByteBuffer;

/**
 * The stored record and the self-test of the simulated board.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class UpkeepCommands {
    private static final int READ_HEADER = 12;
    private static final int WRITE_HEADER = 4;
    private static final int COMMIT_MAGIC = 0x214C4143;
    private static final int OUTPUTS = 1;
    private static final int CONVERTER = 2;
    private static final int STORAGE = 4;
    private static final int MEMORY = 8;

    private final SimulatedBoard.Device device;
    private final RecordStore store;

    UpkeepCommands(SimulatedBoard.Device device) {
        this.device = device;
        this.store = device.store();
    }

    byte[] read(ByteBuffer in) {
        int offset = in.getShort(0) & 0xFFFF;
        int count = in.getShort(2) & 0xFFFF;
        RecordStore.Entry entry = store.inForce().orElseThrow(() -> new Refusal(Refusal.NO_DATA, 0));
        Refusal.unless(offset < entry.length(), 0);
        Refusal.unless(count <= device.settings().maxPayload() - READ_HEADER, 2);
        byte[] part = entry.part(offset, count);
        return Payloads.out(READ_HEADER + part.length)
                .putInt((int) entry.generation())
                .putInt((int) entry.crc())
                .putShort((short) entry.length())
                .putShort((short) offset)
                .put(part)
                .array();
    }

    private void requireSafe() {
        if (device.core().state() != SafetyCore.SAFE) {
            throw new Refusal(Refusal.BAD_STATE, device.core().state());
        }
    }

    private void requireUnlocked() {
        if (store.locked()) {
            throw new Refusal(Refusal.LOCKED, 0);
        }
    }

    byte[] write(ByteBuffer in) {
        requireSafe();
        int offset = in.getShort(0) & 0xFFFF;
        byte[] bytes = new byte[in.limit() - WRITE_HEADER];
        in.get(WRITE_HEADER, bytes);
        Refusal.unless(offset + bytes.length <= RecordStore.ROOM, 0);
        requireUnlocked();
        store.stage(offset, bytes);
        return Payloads.out(4)
                .putShort((short) offset)
                .putShort((short) bytes.length)
                .array();
    }

    byte[] commit(ByteBuffer in) {
        requireSafe();
        int length = in.getShort(8) & 0xFFFF;
        Refusal.unless(in.getInt(0) == COMMIT_MAGIC, 0);
        Refusal.unless(length >= 1 && length <= RecordStore.ROOM, 8);
        Refusal.unless(in.getInt(4) == (int) store.stagedCrc(length), 4);
        requireUnlocked();
        RecordStore.Entry entry = store.commit(length);
        return Payloads.out(8)
                .putInt((int) entry.generation())
                .putInt((int) entry.crc())
                .array();
    }

    byte[] selfTest(ByteBuffer in) {
        requireSafe();
        device.requireIdle();
        int tests = in.getInt(0) & (OUTPUTS | CONVERTER | STORAGE | MEMORY);
        boolean outputsOn = device.core().loadEnable() || device.core().contacts() != 0;
        boolean converterBad = (device.core().active() >> SafetyCore.ADC_FAULT & 1) != 0;
        int failed = (outputsOn ? OUTPUTS : 0) | (converterBad ? CONVERTER : 0) | (store.intact() ? 0 : STORAGE);
        if ((tests & MEMORY) != 0) {
            device.sampler().forgetCapture();
        }
        return Payloads.out(8).putInt(tests).putInt(failed & tests).array();
    }
}
