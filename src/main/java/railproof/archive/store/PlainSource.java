package railproof.archive.store;

import java.io.PrintWriter;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.SQLFeatureNotSupportedException;
import java.sql.Statement;
import java.util.Properties;
import java.util.logging.Logger;
import javax.sql.DataSource;
import org.jspecify.annotations.Nullable;

/** Opens connections to one archive, set up the way it needs them. A command needs one; there is nothing to pool. */
final class PlainSource implements DataSource {
    private static final int BUSY_MS = 20_000;

    private final ArchiveAddress address;

    PlainSource(ArchiveAddress address) {
        this.address = address;
    }

    @Override
    public Connection getConnection() throws SQLException {
        Properties properties = address.properties();
        Connection connection = DriverManager.getConnection(address.url(), properties);
        if (address.file().isPresent()) {
            boolean ready = false;
            try (Statement statement = connection.createStatement()) {
                statement.execute("PRAGMA busy_timeout = " + BUSY_MS);
                // readers do not wait for writers; a power cut may lose the last runs, never break the file,
                // and run folders are there to read them again
                statement.execute("PRAGMA journal_mode = WAL");
                statement.execute("PRAGMA synchronous = NORMAL");
                statement.execute("PRAGMA foreign_keys = ON");
                ready = true;
            } finally {
                if (!ready) {
                    connection.close();
                }
            }
        }
        return connection;
    }

    @Override
    public Connection getConnection(String user, String password) throws SQLException {
        throw new SQLFeatureNotSupportedException("the address says who connects");
    }

    @Override
    public @Nullable PrintWriter getLogWriter() {
        return null;
    }

    @Override
    public void setLogWriter(@Nullable PrintWriter out) {
        // nothing is logged
    }

    @Override
    public void setLoginTimeout(int seconds) {
        // the address says it
    }

    @Override
    public int getLoginTimeout() {
        return 0;
    }

    @Override
    public Logger getParentLogger() throws SQLFeatureNotSupportedException {
        throw new SQLFeatureNotSupportedException("nothing is logged");
    }

    @Override
    public <T> T unwrap(Class<T> type) throws SQLException {
        throw new SQLException("wraps nothing");
    }

    @Override
    public boolean isWrapperFor(Class<?> type) {
        return false;
    }
}
