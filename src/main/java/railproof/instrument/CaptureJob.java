package railproof.instrument;

import java.util.concurrent.TimeUnit;
import railproof.base.Clock;
import railproof.wire.LinkException;

/**
 * One block capture from configuration to the finished block.
 *
 * <p>Thread: control thread only.
 */
final class CaptureJob {
    private static final long POLL_NS = TimeUnit.MILLISECONDS.toNanos(20);
    private static final long MARGIN_NS = TimeUnit.MILLISECONDS.toNanos(500);
    private static final int TRIGGER_WAIT_MS = 10_000;
    private static final int DONE = 3;
    private static final String[] STATES = {"IDLE", "WAIT_TRIGGER", "FILLING", "DONE", "ABORTED", "OVERRUN"};

    private final BoardSession session;
    private final String name;
    private final Clock clock;
    private final int maxPayload;
    private final int channelMask;
    private final int captureId;
    private final long scans;
    private final long periodTicks;
    private final long deadlineNs;

    private CaptureJob(BoardSession session, String name, Clock clock, PayloadReader can, PayloadReader made) {
        this.session = session;
        this.name = name;
        this.clock = clock;
        maxPayload = can.getInt("max_payload");
        channelMask = (int) made.get("channel_mask"); // bit 31 is a channel too
        captureId = made.getInt("capture_id");
        scans = made.get("scans");
        periodTicks = made.get("period_ticks");
        deadlineNs = clock.nowNs()
                + CaptureTransfer.durationNs(scans, periodTicks, can.get("tick_hz"))
                + TimeUnit.MILLISECONDS.toNanos(TRIGGER_WAIT_MS)
                + MARGIN_NS;
    }

    static CaptureJob start(BoardSession session, String name, Clock clock, PayloadReader can, CaptureRequest request)
            throws LinkException, InstrumentException, InterruptedException {
        boolean atOnce = request.trigger() == CaptureRequest.Trigger.IMMEDIATE;
        PayloadReader made = session.ask(
                BoardMessage.CAPTURE_CONFIGURE,
                BoardMessage.CAPTURE_CONFIGURE
                        .request()
                        .set("channel_mask", request.channelMask() & 0xFFFFFFFFL)
                        .set("trigger", atOnce ? 0 : 4)
                        .set("period_ticks", request.periodTicks())
                        .set("scans", request.samplesPerChannel())
                        .set("pre_scans", request.preTriggerSamples())
                        .set("trigger_timeout_ms", atOnce ? 0 : TRIGGER_WAIT_MS));
        CaptureJob job = new CaptureJob(session, name, clock, can, made);
        if (job.channelMask != request.channelMask()
                || job.scans != request.samplesPerChannel()
                || job.periodTicks != request.periodTicks()) {
            throw new InstrumentException(
                    name,
                    "CAPTURE_CONFIGURE",
                    request.toString(),
                    job.scans + " scans every " + job.periodTicks + " ticks of channels "
                            + Integer.toBinaryString(job.channelMask));
        }
        session.ask(
                BoardMessage.CAPTURE_CONTROL,
                BoardMessage.CAPTURE_CONTROL
                        .request()
                        .set("capture_id", job.captureId)
                        .set("op", 1));
        return job;
    }

    CaptureBlock finish() throws LinkException, InstrumentException, InterruptedException {
        PayloadReader status = awaitDone();
        int count = Integer.bitCount(channelMask);
        CaptureTransfer transfer = new CaptureTransfer(session, name, captureId, count, Math.toIntExact(scans));
        int[][] codes = transfer.fetch(maxPayload, status.get("block_crc"));
        int[] channels = new int[count];
        int at = 0;
        for (int channel = 0; channel < BoardCapability.MAX_CHANNELS; channel++) {
            if ((channelMask >> channel & 1) != 0) {
                channels[at++] = channel;
            }
        }
        return new CaptureBlock(channels, codes, status.get("start_ticks"), periodTicks);
    }

    private PayloadReader awaitDone() throws LinkException, InstrumentException, InterruptedException {
        while (true) {
            PayloadReader status = session.ask(BoardMessage.CAPTURE_STATUS);
            session.requireFed();
            int state = status.getInt("state");
            if (status.getInt("capture_id") == captureId && state == DONE) {
                return status;
            }
            boolean under = state == 1 || state == 2;
            if (!under || status.getInt("capture_id") != captureId || clock.nowNs() >= deadlineNs) {
                throw new InstrumentException(
                        name,
                        "CAPTURE_STATUS",
                        "capture " + captureId + " to become DONE",
                        (state < STATES.length ? STATES[state] : "state " + state) + " of capture "
                                + status.getInt("capture_id") + ", " + status.get("filled") + " of " + scans
                                + " scans");
            }
            session.exchange().idle(POLL_NS);
        }
    }
}
