package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import javax.sound.sampled.LineUnavailableException;
import org.junit.jupiter.api.Test;

class AlarmsTest {
    private static final long PATIENCE_S = 10;

    @Test
    void anAlarmRingsOnceForAllUntilItIsSeen() {
        List<Boolean> rung = new ArrayList<>();
        Alarms alarms = new Alarms(rung::add);

        alarms.raise("LC-2107: output below its band");
        alarms.raise("LC-2107: output below its band");
        alarms.raise("TM-0417: asks");

        assertEquals(List.of("LC-2107: output below its band", "TM-0417: asks"), alarms.open());
        assertEquals(List.of(true, true), rung);
        alarms.seen();
        assertEquals(List.of(), alarms.open());
        assertEquals(List.of(true, true, false), rung);
        alarms.raise("LC-2107: output below its band");
        assertEquals(1, alarms.open().size(), "what was seen may come again");
    }

    @Test
    void theBellPlaysTheTones() throws Exception {
        CountDownLatch played = new CountDownLatch(1);
        try (AlarmBell bell = new AlarmBell(samples -> played.countDown())) {
            bell.ring(true);
            assertTrue(played.await(PATIENCE_S, TimeUnit.SECONDS), "the bell was heard");
        }
    }

    @Test
    void aMachineWithoutSoundIsDeafAndNothingElse() throws Exception {
        CountDownLatch tried = new CountDownLatch(1);
        try (AlarmBell bell = new AlarmBell(samples -> {
            tried.countDown();
            throw new LineUnavailableException("no device");
        })) {
            bell.ring(true);
            assertTrue(tried.await(PATIENCE_S, TimeUnit.SECONDS), "it was tried");
            for (int i = 0; i < 1000 && !bell.deaf(); i++) {
                new CountDownLatch(1).await(10, TimeUnit.MILLISECONDS);
            }
            assertTrue(bell.deaf(), "and found out");
            bell.ring(true);
            bell.ring(false);
        }
    }

    @Test
    void theTonesFadeInAndOutAndAreWithinRange() {
        byte[] tones = AlarmBell.tones();

        int loudest = 0;
        for (int i = 0; i < tones.length; i += 2) {
            loudest = Math.max(loudest, Math.abs((short) ((tones[i] & 0xFF) | (tones[i + 1] << 8))));
        }
        // 0.6 of full scale, as stated, less what sampling misses of a crest: cos(pi * 1175 / 22050) at worst
        assertTrue(
                loudest > 0.6 * Short.MAX_VALUE * 0.985 && loudest <= 0.6 * Short.MAX_VALUE + 1, "loudest " + loudest);
        assertEquals(0, tones[0]);
        assertEquals(0, tones[1]);
    }
}
