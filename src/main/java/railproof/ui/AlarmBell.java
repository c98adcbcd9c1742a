package railproof.ui;

import javax.sound.sampled.AudioFormat;
import javax.sound.sampled.AudioSystem;
import javax.sound.sampled.LineUnavailableException;
import javax.sound.sampled.SourceDataLine;
import railproof.base.SystemClock;

/**
 * Two tones every other second while something wants to be seen. Without a sound device nothing is heard, and that is
 * said; what is shown does not depend on it.
 *
 * <p>Thread: any; rings on one of its own ({@code window-bell}).
 */
final class AlarmBell implements AutoCloseable {
    private static final float RATE_HZ = 22_050;
    private static final long PAUSE_NS = 1_600_000_000L;
    /** Two tones that a workshop's hum and fans do not cover. */
    private static final double[] TONES_HZ = {880, 1175};

    private static final double TONE_S = 0.18;
    private static final double LOUDNESS_RATIO = 0.6;
    private static final double FADE_S = 0.01;

    private final Speaker speaker;
    private boolean ringing;
    private boolean closed;
    private boolean working;
    private volatile boolean deaf;

    /** Plays a tone, or finds out that it cannot. */
    @FunctionalInterface
    interface Speaker {
        /**
         * Returns when it was heard.
         *
         * @param samples signed, 16 bit, low byte first, one channel
         * @throws LineUnavailableException if there is no device for it
         */
        void play(byte[] samples) throws LineUnavailableException;
    }

    /** The machine's own loudspeaker. */
    AlarmBell() {
        this(AlarmBell::playAloud);
    }

    AlarmBell(Speaker speaker) {
        this.speaker = speaker;
    }

    private static void playAloud(byte[] samples) throws LineUnavailableException {
        AudioFormat format = new AudioFormat(RATE_HZ, 16, 1, true, false);
        try (SourceDataLine line = AudioSystem.getSourceDataLine(format)) {
            line.open(format);
            line.start();
            line.write(samples, 0, samples.length);
            line.drain();
        }
    }

    /** The tones as samples. */
    static byte[] tones() {
        int each = (int) (TONE_S * RATE_HZ);
        byte[] samples = new byte[2 * each * TONES_HZ.length];
        for (int i = 0; i < each * TONES_HZ.length; i++) {
            double t = (i % each) / (double) RATE_HZ;
            double fade = Math.min(1, Math.min(t, TONE_S - t) / FADE_S);
            double sample = LOUDNESS_RATIO * fade * Math.sin(2 * Math.PI * TONES_HZ[i / each] * t);
            int code = (int) Math.round(Short.MAX_VALUE * sample);
            samples[2 * i] = (byte) code;
            samples[2 * i + 1] = (byte) (code >> 8);
        }
        return samples;
    }

    /** Rings from now on, or is silent. */
    synchronized void ring(boolean on) {
        ringing = on && !closed;
        if (ringing && !deaf && !working) {
            working = true;
            Thread thread = new Thread(this::work, "window-bell");
            thread.setDaemon(true);
            thread.start();
        }
    }

    /** Whether this machine has no device to ring with. */
    boolean deaf() {
        return deaf;
    }

    @SuppressWarnings("IllegalCatch") // a sound driver that fails in any way must not take an alarm's display with it
    private void work() {
        byte[] tones = tones();
        try {
            while (goesOn()) {
                speaker.play(tones);
                SystemClock.INSTANCE.sleepNs(PAUSE_NS);
            }
        } catch (LineUnavailableException | RuntimeException | LinkageError e) {
            deaf = true;
            rest();
            System.getLogger("railproof.ui").log(System.Logger.Level.DEBUG, "no sound", e);
        } catch (InterruptedException e) {
            rest();
            Thread.currentThread().interrupt();
        }
    }

    /** Whether to ring once more; if not, whoever rings next starts anew. */
    private synchronized boolean goesOn() {
        working = ringing;
        return ringing;
    }

    private synchronized void rest() {
        working = false;
    }

    @Override
    public synchronized void close() {
        closed = true;
        ringing = false;
    }
}
