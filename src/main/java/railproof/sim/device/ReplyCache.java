package railproof.sim.device;

import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.zip.CRC32;
import railproof.wire.Frame;

/**
 * The last four requests with their answers: a request that comes again is answered again, not executed again.
 *
 * <p>Thread: confined to whoever drives the board.
 */
final class ReplyCache {
    private static final int DEPTH = 4;

    /** What makes two requests the same; the RETRY flag does not count. */
    record Key(int seq, int type, long payloadCrc) {
        static Key of(Frame request) {
            CRC32 crc = new CRC32();
            crc.update(request.payload());
            return new Key(request.seq(), request.type(), crc.getValue());
        }
    }

    private record Entry(Key key, List<Frame> answer) {}

    private final Deque<Entry> entries = new ArrayDeque<>();

    void put(Key key, List<Frame> answer) {
        if (entries.size() == DEPTH) {
            entries.removeFirst();
        }
        entries.addLast(new Entry(key, List.copyOf(answer)));
    }

    Optional<List<Frame>> get(Key key) {
        return entries.stream()
                .filter(e -> e.key().equals(key))
                .map(Entry::answer)
                .findFirst();
    }

    void clear() {
        entries.clear();
    }
}
