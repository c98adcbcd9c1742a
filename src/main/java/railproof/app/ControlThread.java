package railproof.app;

import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutionException;
import java.util.function.Supplier;
import railproof.rig.Operator;
import railproof.rig.RigControl;
import railproof.rig.RunSink;
import railproof.rig.RunStart;
import railproof.run.RunOutcome;

/**
 * The thread {@code rig-control}: the only one that talks with instruments. The caller waits for it even if it is
 * itself interrupted, because a run without its control thread is a bench left alone.
 */
final class ControlThread {
    private final RigControl control;
    private final Operator operator;
    private final RunStart start;

    ControlThread(RigControl control, Operator operator, RunStart start) {
        this.control = control;
        this.operator = operator;
        this.start = start;
    }

    List<RigControl.Contact> connect() {
        return onControlThread(control::connect);
    }

    RunOutcome run(RigControl.Work work, RunSink sink) {
        return onControlThread(() -> control.run(work, operator, sink, start));
    }

    private static <T> T onControlThread(Supplier<T> task) {
        CompletableFuture<T> result = new CompletableFuture<>();
        Thread thread = new Thread(
                () -> {
                    try {
                        result.complete(task.get());
                    } finally {
                        result.completeExceptionally(new IllegalStateException("the control thread died"));
                    }
                },
                "rig-control");
        thread.start();
        return await(result, thread);
    }

    private static <T> T await(CompletableFuture<T> result, Thread thread) {
        boolean interrupted = false;
        try {
            while (true) {
                try {
                    thread.join();
                    return result.get();
                } catch (InterruptedException e) {
                    interrupted = true;
                } catch (ExecutionException e) {
                    throw new IllegalStateException("the control thread died", e.getCause());
                }
            }
        } finally {
            if (interrupted) {
                Thread.currentThread().interrupt();
            }
        }
    }
}
