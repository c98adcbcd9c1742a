package railproof.app;

import java.io.IOException;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import railproof.record.RecordException;
import railproof.record.RunFolderWriter;
import railproof.rig.RunSink;
import railproof.run.RunEvent;

/**
 * Takes events off the control thread and writes them on its own, {@code record-writer}: a disk that takes its time to
 * flush must not starve the bench's heartbeat. The control thread waits for each receipt in slices.
 *
 * <p>Thread: {@link #accept} from the control thread; the listener is called on the writer's thread, after the event
 * is on disk. A listener that throws is left out from then on; the run does not notice.
 */
final class RecordQueue implements RunSink, AutoCloseable {
    private static final int CAPACITY = 64;

    private final BlockingQueue<Item> queue = new ArrayBlockingQueue<>(CAPACITY);
    private final RunFolderWriter writer;
    private final Consumer<RunEvent> listener;
    private final AtomicBoolean closing = new AtomicBoolean();
    private final Thread thread;
    private boolean listenerBroken;

    private record Item(RunEvent event, CompletableFuture<Boolean> kept) {}

    RecordQueue(RunFolderWriter writer, Consumer<RunEvent> listener) {
        this.writer = writer;
        this.listener = listener;
        thread = new Thread(this::writeAll, "record-writer");
        thread.setDaemon(true);
        thread.start();
    }

    @Override
    public Receipt accept(RunEvent event) {
        Item item = new Item(event, new CompletableFuture<>());
        if (!queue.offer(item)) {
            item.kept()
                    .completeExceptionally(
                            new IOException("the disk does not keep up: " + CAPACITY + " events are waiting"));
        }
        return waitMs -> kept(item.kept(), waitMs);
    }

    private static boolean kept(CompletableFuture<Boolean> kept, int waitMs) throws IOException, InterruptedException {
        try {
            return kept.get(waitMs, TimeUnit.MILLISECONDS);
        } catch (TimeoutException e) {
            return false;
        } catch (ExecutionException e) {
            throw new IOException(
                    String.valueOf(e.getCause() == null ? e : e.getCause().getMessage()), e);
        }
    }

    @SuppressWarnings("IllegalCatch") // whatever the writer throws belongs to the receipt, not to this thread
    private void writeAll() {
        while (true) {
            Item item = next();
            if (item == null) {
                return;
            }
            try {
                writer.append(item.event());
                item.kept().complete(true);
            } catch (RecordException | RuntimeException e) {
                item.kept().completeExceptionally(e);
                continue;
            }
            tell(item.event());
        }
    }

    @Nullable
    private Item next() {
        try {
            Item item = null;
            while (item == null) {
                item = queue.poll(20, TimeUnit.MILLISECONDS);
                if (item == null && closing.get()) {
                    return null;
                }
            }
            return item;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return null;
        }
    }

    @SuppressWarnings("IllegalCatch") // a broken display must not touch the run
    private void tell(RunEvent event) {
        if (listenerBroken) {
            return;
        }
        try {
            listener.accept(event);
        } catch (RuntimeException | Error e) {
            listenerBroken = true;
            System.getLogger("railproof.app")
                    .log(System.Logger.Level.WARNING, "the display of the run failed; the run goes on", e);
        }
    }

    /** Writes what is waiting, ends the thread, closes the folder. */
    @Override
    public void close() throws RecordException {
        closing.set(true);
        boolean interrupted = false;
        while (thread.isAlive()) {
            try {
                thread.join();
            } catch (InterruptedException e) {
                interrupted = true;
            }
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
        writer.close();
    }
}
