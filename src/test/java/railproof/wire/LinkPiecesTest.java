package railproof.wire;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalLong;
import java.util.Random;
import java.util.concurrent.CountDownLatch;
import java.util.function.Consumer;
import org.junit.jupiter.api.Test;
import railproof.base.VirtualClock;

/** The link in memory, the queue behind a port, the trace and the exit actions. */
class LinkPiecesTest {
    private final VirtualClock clock = new VirtualClock(Instant.EPOCH);

    /** Says one byte, 70 ms after it was spoken to. */
    private static final class Slow implements Peer {
        private long nowNs;
        private long dueNs = -1;

        @Override
        public void receive(byte[] bytes, Consumer<byte[]> reply) {
            dueNs = nowNs + 70_000_000;
        }

        @Override
        public void advanceTo(long now, Consumer<byte[]> reply) {
            nowNs = now;
            if (dueNs >= 0 && now >= dueNs) {
                dueNs = -1;
                reply.accept(new byte[] {42});
            }
        }

        @Override
        public OptionalLong nextEventNs() {
            return dueNs < 0 ? OptionalLong.empty() : OptionalLong.of(dueNs);
        }
    }

    @Test
    void letsTimePassOnlyToTheInstantOfTheReply() throws Exception {
        MemoryLink link = new MemoryLink("m", clock, new Slow());
        byte[] buffer = new byte[8];

        link.write(new byte[] {1});
        assertEquals(0, link.read(buffer, 20_000_000));
        assertEquals(20_000_000, clock.nowNs());
        assertEquals(1, link.read(buffer, 500_000_000));

        assertEquals(42, buffer[0]);
        assertEquals(70_000_000, clock.nowNs());
        assertEquals(0, link.read(buffer, 30_000_000));
        assertEquals(100_000_000, clock.nowNs());
    }

    @Test
    void takesAnEmergencyWriteFromAnInterruptedThread() throws Exception {
        List<byte[]> heard = new ArrayList<>();
        MemoryLink link = new MemoryLink("m", clock, (bytes, reply) -> heard.add(bytes));

        Thread.currentThread().interrupt();
        assertTrue(link.emergencyWrite(new byte[] {5}));
        assertTrue(Thread.interrupted());

        assertArrayEquals(new byte[] {5}, heard.get(0));
        link.close();
        assertFalse(link.emergencyWrite(new byte[] {5}));
        assertThrows(LinkDownException.class, () -> link.write(new byte[1]));
    }

    @Test
    void queueGivesBackWhatWasPutInWhateverThePortions() {
        long seed = 12;
        Random random = new Random(seed);
        ByteQueue queue = new ByteQueue(10_000);
        byte next = 0;
        byte wanted = 0;
        for (int round = 0; round < 5000; round++) {
            byte[] in = new byte[random.nextInt(40)];
            for (int i = 0; i < in.length; i++) {
                in[i] = next++;
            }
            queue.put(in, in.length);
            byte[] out = new byte[random.nextInt(45)];
            int count = queue.take(out);
            for (int i = 0; i < count; i++) {
                assertEquals(wanted++, out[i], "seed " + seed + " round " + round);
            }
        }
        assertEquals(0, queue.droppedBytes());
    }

    @Test
    void queueDropsAndCountsWhatDoesNotFit() {
        ByteQueue queue = new ByteQueue(10);
        queue.put(new byte[] {1, 2, 3, 4, 5, 6, 7}, 7);
        queue.put(new byte[] {8, 9, 10, 11, 12}, 5);

        byte[] out = new byte[20];
        assertEquals(10, queue.take(out));
        assertArrayEquals(new byte[] {1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, Arrays.copyOf(out, 10));
        assertEquals(2, queue.droppedBytes());
    }

    @Test
    void traceLinesHaveAFixedWidthAndKeepTheLastFiveHundred() throws Exception {
        WireTrace trace = new WireTrace();
        TracedLink link = new TracedLink(
                new MemoryLink("load", clock, (bytes, reply) -> reply.accept(new byte[] {0, 1, 'A'})), trace);
        link.write(":MEAS:CURR?\n".getBytes(java.nio.charset.StandardCharsets.US_ASCII));
        clock.sleepNs(1_234_567);
        assertEquals(3, link.read(new byte[8], 0));
        link.emergencyWrite(new byte[100]);

        assertEquals(
                List.of(
                        "      0.000000 > load             12 3a4d4541533a435552523f0a                         "
                                + "|:MEAS:CURR?.            |",
                        "      0.001235 < load              3 000141                                           "
                                + "|..A                     |",
                        "      0.001235 ! load            100 000000000000000000000000000000000000000000000000 "
                                + "|........................|"),
                trace.lines());

        for (int k = 0; k < 600; k++) {
            link.write(new byte[] {(byte) k});
        }
        assertEquals(500, trace.lines().size());
        assertEquals(1, trace.lines().stream().map(String::length).distinct().count());
    }

    @Test
    void exitActionsRunInOrderWithoutTheCancelledAndDespiteAFailure() throws Exception {
        List<Thread> hooks = new ArrayList<>();
        ExitActions exit = new ExitActions(hooks::add, Duration.ofSeconds(20));
        List<String> done = new ArrayList<>();
        exit.add(() -> {
            throw new IllegalStateException("this one fails");
        });
        exit.add(() -> done.add("first"));
        Link.ExitRegistration second = exit.add(() -> done.add("second"));
        exit.add(() -> done.add("third"));
        second.cancel();

        hooks.get(0).start();
        hooks.get(0).join();

        assertEquals(1, hooks.size());
        assertEquals(List.of("first", "third"), done);
    }

    @Test
    void exitActionsEndWithinTheirBound() throws Exception {
        List<Thread> hooks = new ArrayList<>();
        CountDownLatch never = new CountDownLatch(1);
        ExitActions exit = new ExitActions(hooks::add, Duration.ofMillis(20));
        exit.add(() -> {
            try {
                never.await();
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
            }
        });

        hooks.get(0).start();
        hooks.get(0).join(20_000);

        assertFalse(hooks.get(0).isAlive());
        never.countDown();
    }
}
