package railproof.archive.store;

import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import org.flywaydb.core.Flyway;

/** Brings an archive's tables to the form this version needs. */
final class Tables {
    private static final String NEWEST = "1";
    private static final String LOCATION = "classpath:railproof/archive";

    private Tables() {}

    /** Looks first, because looking is much faster than asking the migrations. */
    static void bringUpToDate(ArchiveAddress address, Connection connection) throws SQLException, java.io.IOException {
        if (current(connection)) {
            return;
        }
        synchronized (Tables.class) {
            if (address.file().isPresent()) {
                Path file = address.file().get();
                Path lockFile = file.resolveSibling(file.getFileName() + ".lock");
                try (FileChannel channel =
                                FileChannel.open(lockFile, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
                        FileLock lock = channel.lock()) {
                    if (lock.isValid() && !current(connection)) {
                        migrate(address);
                    }
                }
            } else {
                migrate(address);
            }
        }
    }

    private static void migrate(ArchiveAddress address) {
        Flyway.configure(Tables.class.getClassLoader())
                .dataSource(new PlainSource(address))
                .locations(LOCATION)
                .validateMigrationNaming(true)
                .load()
                .migrate();
    }

    private static boolean current(Connection connection) throws SQLException {
        boolean automatic = connection.getAutoCommit();
        try (Statement statement = connection.createStatement();
                ResultSet rows = statement.executeQuery(
                        "SELECT version FROM flyway_schema_history WHERE success ORDER BY installed_rank DESC")) {
            if (!rows.next()) {
                return false;
            }
            String version = rows.getString(1);
            if (version != null && version.compareTo(NEWEST) > 0) {
                throw new SQLException("it was made by a later version of this program");
            }
            return NEWEST.equals(version);
        } catch (SQLException e) {
            if (missingTable(e)) {
                if (!automatic) {
                    connection.rollback();
                }
                return false;
            }
            throw e;
        }
    }

    private static boolean missingTable(SQLException e) {
        // 42P01 is undefined_table (PostgreSQL); SQLite has no states
        return "42P01".equals(e.getSQLState()) || String.valueOf(e.getMessage()).contains("no such table");
    }
}
