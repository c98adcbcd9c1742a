package railproof.archive.store;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.flywaydb.core.api.FlywayException;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.Jdbi;
import org.jdbi.v3.core.JdbiException;
import railproof.archive.ArchivedCheck;
import railproof.archive.ArchivedRun;
import railproof.archive.RunFilter;

/**
 * One connection to an archive. Every call is one transaction: done wholly or not at all, whatever dies meanwhile.
 *
 * <p>Thread: one.
 */
public final class Archive implements AutoCloseable {
    private static final int NAMES_AT_ONCE = 500;

    private final ArchiveAddress address;
    private final Connection connection;
    private final Handle handle;

    /**
     * A run with its checks.
     *
     * @param run the run
     * @param checks its checks, in order
     */
    public record Entry(ArchivedRun run, List<ArchivedCheck> checks) {
        public Entry {
            checks = List.copyOf(checks);
        }
    }

    private Archive(ArchiveAddress address, Connection connection) {
        this.address = address;
        this.connection = connection;
        this.handle = Jdbi.create(connection).open();
    }

    /**
     * Connects, and makes or updates the tables if need be.
     *
     * @throws ArchiveException if it cannot be reached or used
     */
    public static Archive open(ArchiveAddress address) throws ArchiveException {
        return guarded(address, "be opened", () -> {
            if (address.file().isPresent()) {
                Path folder = address.file().get().toAbsolutePath().getParent();
                if (folder != null) {
                    Files.createDirectories(folder);
                }
            }
            Connection connection = new PlainSource(address).getConnection();
            boolean open = false;
            try {
                Tables.bringUpToDate(address, connection);
                open = true;
                return new Archive(address, connection);
            } finally {
                if (!open) {
                    connection.close();
                }
            }
        });
    }

    /**
     * Takes runs in, replacing what is known of them: taking the same in again changes nothing.
     *
     * @throws ArchiveException if it fails; then none of them is taken in
     */
    public void ingest(List<Entry> entries) throws ArchiveException {
        guarded(address, "take runs in", () -> {
            handle.useTransaction(transaction -> {
                for (Entry entry : entries) {
                    Rows.write(transaction, entry);
                }
            });
            return true;
        });
    }

    /**
     * Forgets all runs.
     *
     * @throws ArchiveException if it fails
     */
    public void clear() throws ArchiveException {
        guarded(address, "be emptied", () -> {
            handle.useTransaction(transaction -> {
                transaction.execute("DELETE FROM checks");
                transaction.execute("DELETE FROM runs");
            });
            return true;
        });
    }

    /**
     * Those of the run ids that are known.
     *
     * @throws ArchiveException if it fails
     */
    public Set<String> known(List<String> runIds) throws ArchiveException {
        return guarded(address, "be read", () -> {
            Set<String> known = new HashSet<>();
            for (int from = 0; from < runIds.size(); from += NAMES_AT_ONCE) {
                List<String> part = runIds.subList(from, Math.min(from + NAMES_AT_ONCE, runIds.size()));
                known.addAll(handle.createQuery("SELECT run_id FROM runs WHERE run_id IN (<ids>)")
                        .bindList("ids", part)
                        .mapTo(String.class)
                        .list());
            }
            return known;
        });
    }

    /**
     * Runs, the newest first.
     *
     * @param most at most so many
     * @throws ArchiveException if it fails
     */
    public List<ArchivedRun> runs(RunFilter filter, int most) throws ArchiveException {
        return guarded(address, "be read", () -> Rows.runs(handle, filter, most));
    }

    /**
     * All checks of the runs meant.
     *
     * @throws ArchiveException if it fails
     */
    public List<ArchivedCheck> checks(RunFilter filter) throws ArchiveException {
        return guarded(address, "be read", () -> Rows.checks(handle, filter));
    }

    /**
     * How many runs are meant.
     *
     * @throws ArchiveException if it fails
     */
    public long count(RunFilter filter) throws ArchiveException {
        return guarded(address, "be read", () -> Rows.count(handle, filter));
    }

    /**
     * The types of unit there are.
     *
     * @throws ArchiveException if it fails
     */
    public List<String> types() throws ArchiveException {
        return guarded(
                address,
                "be read",
                () -> new ArrayList<>(handle.createQuery("SELECT DISTINCT profile_id FROM runs ORDER BY profile_id")
                        .mapTo(String.class)
                        .list()));
    }

    private interface Work<T> {
        T go() throws SQLException, IOException;
    }

    private static <T> T guarded(ArchiveAddress address, String what, Work<T> work) throws ArchiveException {
        try {
            return work.go();
        } catch (JdbiException | FlywayException | SQLException | IOException e) {
            throw new ArchiveException("the archive " + address + " cannot " + what + ": " + address.hidden(reason(e)));
        }
    }

    /** The innermost reason: the outer ones repeat statements and values. */
    private static String reason(Throwable trouble) {
        Throwable cause = trouble;
        for (int depth = 0; depth < 20 && cause.getCause() != null; depth++) {
            cause = cause.getCause();
        }
        return String.valueOf(cause.getMessage()).lines().findFirst().orElse("") + " ("
                + cause.getClass().getSimpleName() + ")";
    }

    /** Lets go. What was taken in is in already, so that trouble here is no trouble. */
    @Override
    public void close() {
        handle.close();
        try {
            // the handle leaves a connection alone that it did not open
            connection.close();
        } catch (SQLException e) {
            System.getLogger("railproof.archive").log(System.Logger.Level.DEBUG, "the archive would not close", e);
        }
    }
}
