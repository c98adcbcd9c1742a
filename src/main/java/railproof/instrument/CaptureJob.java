package railproof.instrument;

import java.time.Duration;
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
    private static final int WAIT_TRIGGER = 1;
    private static final int FILLING = 2;
    private static final int DONE = 3;
    private static final int START = 1;
    private static final int TRIGGER_NOW = 2;
    private static final int ABORT = 3;
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

    private CaptureJob(BoardSession session, Clock clock, PayloadReader can, PayloadReader made, Duration patience) {
        this.session = session;
        this.name = session.name();
        this.clock = clock;
        maxPayload = can.getInt("max_payload");
        channelMask = (int) made.get("channel_mask"); // bit 31 is a channel too
        captureId = made.getInt("capture_id");
        scans = made.get("scans");
        periodTicks = made.get("period_ticks");
        deadlineNs = clock.nowNs()
                + CaptureTransfer.durationNs(scans, periodTicks, can.get("tick_hz"))
                + patience.toNanos()
                + MARGIN_NS;
    }

    static CaptureJob start(BoardSession session, Clock clock, PayloadReader can, CaptureRequest request)
            throws LinkException, InstrumentException, InterruptedException {
        PayloadReader made = session.ask(BoardMessage.CAPTURE_CONFIGURE, configuration(request));
        CaptureJob job = new CaptureJob(session, clock, can, made, request.patience());
        if (job.channelMask != request.channelMask()
                || job.scans != request.samplesPerChannel()
                || job.periodTicks != request.periodTicks()
                || made.get("pre_scans") != request.preTriggerSamples()) {
            throw new InstrumentException(
                    job.name,
                    "CAPTURE_CONFIGURE",
                    request.toString(),
                    job.scans + " scans every " + job.periodTicks + " ticks of channels "
                            + Integer.toBinaryString(job.channelMask) + ", " + made.get("pre_scans")
                            + " of them before the trigger");
        }
        control(session, job.captureId, START);
        return job;
    }

    private static PayloadWriter configuration(CaptureRequest request) {
        CaptureTrigger trigger = request.trigger();
        PayloadWriter payload = BoardMessage.CAPTURE_CONFIGURE
                .request()
                .set("channel_mask", request.channelMask() & 0xFFFFFFFFL)
                .set("trigger", code(trigger))
                .set("period_ticks", request.periodTicks())
                .set("scans", request.samplesPerChannel())
                .set("pre_scans", request.preTriggerSamples());
        if (trigger instanceof CaptureTrigger.Level level) {
            payload.set("trigger_channel", level.channel()).set("level_code", level.levelCode());
        }
        if (!(trigger instanceof CaptureTrigger.Immediate)) {
            payload.set("trigger_timeout_ms", request.patience().toMillis());
        }
        return payload;
    }

    private static int code(CaptureTrigger trigger) {
        if (trigger instanceof CaptureTrigger.Immediate) {
            return 0;
        }
        if (trigger instanceof CaptureTrigger.Host) {
            return 1;
        }
        if (trigger instanceof CaptureTrigger.Level level) {
            return level.rising() ? 2 : 3;
        }
        return trigger instanceof CaptureTrigger.LoadEnableEdge ? 4 : 5;
    }

    private static void control(BoardSession session, int captureId, int operation)
            throws LinkException, InstrumentException, InterruptedException {
        session.ask(
                BoardMessage.CAPTURE_CONTROL,
                BoardMessage.CAPTURE_CONTROL
                        .request()
                        .set("capture_id", captureId)
                        .set("op", operation));
    }

    void trigger() throws LinkException, InstrumentException, InterruptedException {
        control(session, captureId, TRIGGER_NOW);
    }

    void abort() throws LinkException, InstrumentException, InterruptedException {
        control(session, captureId, ABORT);
    }

    /** Ends a capture that a host before this one left running: it would keep the board busy. */
    static void abortLeftOver(BoardSession session) throws LinkException, InstrumentException, InterruptedException {
        PayloadReader status = session.ask(BoardMessage.CAPTURE_STATUS);
        int state = status.getInt("state");
        if (state == WAIT_TRIGGER || state == FILLING) {
            control(session, status.getInt("capture_id"), ABORT);
        }
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
        long triggerScan = status.get("trigger_scan");
        if (triggerScan >= scans) {
            throw new InstrumentException(
                    name, "CAPTURE_STATUS", "a trigger among " + scans + " scans", "scan " + triggerScan);
        }
        return new CaptureBlock(channels, codes, status.get("start_ticks"), periodTicks, (int) triggerScan);
    }

    private PayloadReader awaitDone() throws LinkException, InstrumentException, InterruptedException {
        while (true) {
            PayloadReader status = session.ask(BoardMessage.CAPTURE_STATUS);
            session.requireFed();
            int state = status.getInt("state");
            if (status.getInt("capture_id") == captureId && state == DONE) {
                return status;
            }
            boolean under = state == WAIT_TRIGGER || state == FILLING;
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
