package railproof.sim.device;

import java.util.Optional;

/**
 * The sampling jobs of the simulated board: averaging, capture, stream; never two of them at work.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class Sampler {
    /** Hears of finished jobs at the instant of their last sample. */
    interface Listener {
        void averaged(AverageJob job, long nowNs);

        void captured(Capture capture, long nowNs);

        /** A stream may have a frame to send. */
        void streamed(long nowNs);
    }

    private final FrontEnd front;
    private final BoardTime time;
    private final Listener listener;
    private final int[] codes = new int[AdcChannel.MAX_COUNT];
    private Optional<AverageJob> average = Optional.empty();
    private Optional<Capture> capture = Optional.empty();
    private Optional<Stream> stream = Optional.empty();
    private int lastId;

    Sampler(FrontEnd front, BoardTime time, Listener listener) {
        this.front = front;
        this.time = time;
        this.listener = listener;
    }

    boolean busy() {
        return average.isPresent()
                || stream.isPresent()
                || capture.filter(Capture::running).isPresent();
    }

    /** The id of the next capture or stream: one counter for both. */
    int nextId() {
        lastId = lastId % 0xFFFF + 1;
        return lastId;
    }

    void start(AverageJob job) {
        average = Optional.of(job);
    }

    void start(Stream newStream) {
        forgetCapture(); // its memory is wanted
        stream = Optional.of(newStream);
    }

    Optional<Stream> stream() {
        return stream;
    }

    void stopStream() {
        stream = Optional.empty();
    }

    void forgetCapture() {
        capture = Optional.empty();
    }

    void configure(Capture newCapture) {
        capture = Optional.of(newCapture);
    }

    Optional<Capture> capture() {
        return capture;
    }

    /** A reset. */
    void restart() {
        lastId = 0;
        stream = Optional.empty();
        average = Optional.empty();
        capture = Optional.empty();
    }

    /** The next sample, or the next frame of a stream. */
    long nextNs() {
        long averageNs = average.map(j -> time.ns(j.nextTicks())).orElse(SafetyCore.NEVER);
        long captureNs = capture.filter(Capture::running)
                .map(c -> time.ns(c.nextTicks()))
                .orElse(SafetyCore.NEVER);
        long streamNs = stream.map(s -> time.ns(Math.min(s.nextTicks(), s.speechTicks())))
                .orElse(SafetyCore.NEVER);
        return Math.min(streamNs, Math.min(averageNs, captureNs));
    }

    /** The instant at which a job may become ready. */
    long nextSpeechNs() {
        long averageNs = average.map(j -> time.ns(j.lastTicks())).orElse(SafetyCore.NEVER);
        long captureNs = capture.filter(Capture::running)
                .map(c -> time.ns(c.speechTicks()))
                .orElse(SafetyCore.NEVER);
        long streamNs = stream.map(Stream::speechTicks)
                .filter(ticks -> ticks != Long.MAX_VALUE)
                .map(time::ns)
                .orElse(SafetyCore.NEVER);
        return Math.min(streamNs, Math.min(averageNs, captureNs));
    }

    /** Takes the samples that are due now. */
    void advance(long nowNs) {
        if (average.isPresent() && time.ns(average.get().nextTicks()) <= nowNs) {
            AverageJob job = average.get();
            front.sample(nowNs, job.mask(), codes);
            job.take(codes);
            if (job.done()) {
                average = Optional.empty();
                listener.averaged(job, nowNs);
            }
        }
        Optional<Capture> running = capture.filter(Capture::running);
        if (running.isPresent() && time.ns(running.get().nextTicks()) <= nowNs) {
            front.sample(nowNs, running.get().plan().mask(), codes);
            if (running.get().take(codes)) {
                listener.captured(running.get(), nowNs);
            }
        }
        if (stream.isPresent()) {
            if (time.ns(stream.get().nextTicks()) <= nowNs) {
                front.sample(nowNs, stream.get().plan().mask(), codes);
                stream.get().take(codes);
            }
            listener.streamed(nowNs);
        }
    }
}
