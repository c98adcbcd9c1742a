package railproof.archive.store;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.PreparedBatch;
import org.jdbi.v3.core.statement.Query;
import railproof.archive.ArchivedCheck;
import railproof.archive.ArchivedRun;
import railproof.archive.RunFilter;

/** Runs and checks to and from rows. The statements mean the same on both databases. */
final class Rows {
    private static final String RUN_COLUMNS = "run_key, run_id, folder, unit_serial, profile_id, stage, kind,"
            + " started_ms, ended_ms, operator, rig, software_version, simulated, outcome, cause, safe_state, verdict,"
            + " signed_by, signed_ms, training";
    private static final String CHECK_COLUMNS =
            "run_key, place, check_id, rail, title, unit, value_si, expanded_u," + " limit_low, limit_high, verdict";
    private static final String INSERT_RUN = "INSERT INTO runs (" + RUN_COLUMNS + ") VALUES (" + values(RUN_COLUMNS)
            + ") ON CONFLICT (run_key) DO UPDATE SET " + replaced(RUN_COLUMNS);
    private static final String INSERT_CHECK =
            "INSERT INTO checks (" + CHECK_COLUMNS + ") VALUES (" + values(CHECK_COLUMNS) + ")";

    private Rows() {}

    private static String values(String columns) {
        return ":" + columns.replace(", ", ", :");
    }

    private static String replaced(String columns) {
        List<String> sets = new ArrayList<>();
        for (String column : columns.split(", ", -1)) {
            sets.add(column + " = excluded." + column);
        }
        return String.join(", ", sets);
    }

    static void write(Handle handle, Archive.Entry entry) {
        ArchivedRun run = entry.run();
        // the row is written first: whoever takes the same run in at this moment waits here
        handle.createUpdate(INSERT_RUN)
                .bind("run_key", run.key())
                .bind("run_id", text(run.runId()))
                .bind("folder", text(run.folder()))
                .bind("unit_serial", text(run.unitSerial()))
                .bind("profile_id", text(run.profileId()))
                .bind("stage", run.stage())
                .bind("kind", run.kind())
                .bind("started_ms", run.startedAt().toEpochMilli())
                .bind("ended_ms", run.endedAt().map(Instant::toEpochMilli).orElse(null))
                .bind("operator", text(run.operator()))
                .bind("rig", text(run.rig()))
                .bind("software_version", text(run.softwareVersion()))
                .bind("simulated", run.simulated() ? 1 : 0)
                .bind("outcome", run.outcome())
                .bind("cause", text(run.cause()))
                .bind("safe_state", run.safeState())
                .bind("verdict", run.verdict())
                .bind("signed_by", text(run.signedBy()))
                .bind("signed_ms", run.signedAt().map(Instant::toEpochMilli).orElse(null))
                .bind("training", run.training() ? 1 : 0)
                .execute();
        handle.createUpdate("DELETE FROM checks WHERE run_key = :key")
                .bind("key", run.key())
                .execute();
        if (entry.checks().isEmpty()) {
            return;
        }
        PreparedBatch batch = handle.prepareBatch(INSERT_CHECK);
        for (ArchivedCheck check : entry.checks()) {
            batch.bind("run_key", run.key())
                    .bind("place", check.place())
                    .bind("check_id", check.checkId())
                    .bind("rail", text(check.rail()))
                    .bind("title", text(check.title()))
                    .bind("unit", check.unit())
                    .bind("value_si", check.valueDimensionless().orElse(null))
                    .bind("expanded_u", check.expandedU())
                    .bind("limit_low", check.lowDimensionless().orElse(null))
                    .bind("limit_high", check.highDimensionless().orElse(null))
                    .bind("verdict", check.verdict())
                    .add();
        }
        batch.execute();
    }

    /** PostgreSQL takes no zero character in a text. */
    private static String text(String text) {
        return text.replace('\u0000', '\uFFFD');
    }

    static List<ArchivedRun> runs(Handle handle, RunFilter filter, int most) {
        return bound(
                        handle,
                        "SELECT " + RUN_COLUMNS + " FROM runs r" + where(filter)
                                + " ORDER BY started_ms DESC, run_key DESC LIMIT :most",
                        filter)
                .bind("most", most)
                .map((row, context) -> run(row))
                .list();
    }

    static long count(Handle handle, RunFilter filter) {
        return bound(handle, "SELECT count(*) FROM runs r" + where(filter), filter)
                .mapTo(Long.class)
                .one();
    }

    static List<ArchivedCheck> checks(Handle handle, RunFilter filter) {
        String columns = "c." + CHECK_COLUMNS.replace(", ", ", c.");
        return bound(
                        handle,
                        "SELECT " + columns + " FROM checks c JOIN runs r ON r.run_key = c.run_key" + where(filter)
                                + " ORDER BY c.run_key, c.place",
                        filter)
                .map((row, context) -> check(row))
                .list();
    }

    private static Map<String, Object> conditions(RunFilter filter) {
        Map<String, Object> conditions = new LinkedHashMap<>();
        filter.unitSerial().ifPresent(value -> conditions.put("r.unit_serial = :unit", value));
        filter.profileId().ifPresent(value -> conditions.put("r.profile_id = :type", value));
        filter.verdict().ifPresent(value -> conditions.put("r.verdict = :verdict", value));
        filter.stage().ifPresent(value -> conditions.put("r.stage = :stage", value));
        filter.from().ifPresent(value -> conditions.put("r.started_ms >= :from", value.toEpochMilli()));
        filter.until().ifPresent(value -> conditions.put("r.started_ms < :until", value.toEpochMilli()));
        filter.simulated().ifPresent(value -> conditions.put("r.simulated = :simulated", value ? 1 : 0));
        return conditions;
    }

    private static String where(RunFilter filter) {
        Map<String, Object> conditions = conditions(filter);
        return conditions.isEmpty() ? "" : " WHERE " + String.join(" AND ", conditions.keySet());
    }

    private static Query bound(Handle handle, String sql, RunFilter filter) {
        Query query = handle.createQuery(sql);
        conditions(filter)
                .forEach((condition, value) -> query.bind(condition.substring(condition.indexOf(':') + 1), value));
        return query;
    }

    private static ArchivedRun run(ResultSet row) throws SQLException {
        return new ArchivedRun(
                row.getString("run_key"),
                row.getString("run_id"),
                row.getString("folder"),
                row.getString("unit_serial"),
                row.getString("profile_id"),
                row.getString("stage"),
                row.getString("kind"),
                Instant.ofEpochMilli(row.getLong("started_ms")),
                instant(row, "ended_ms"),
                row.getString("operator"),
                row.getString("rig"),
                row.getString("software_version"),
                row.getInt("simulated") != 0,
                row.getString("outcome"),
                row.getString("cause"),
                row.getString("safe_state"),
                row.getString("verdict"),
                row.getString("signed_by"),
                instant(row, "signed_ms"),
                row.getInt("training") != 0);
    }

    /** By place, in the order of {@link #CHECK_COLUMNS}: looking names up takes longer than all the rest. */
    private static ArchivedCheck check(ResultSet row) throws SQLException {
        return new ArchivedCheck(
                row.getString(1),
                row.getInt(2),
                row.getString(3),
                row.getString(4),
                row.getString(5),
                row.getString(6),
                number(row, 7),
                row.getDouble(8),
                number(row, 9),
                number(row, 10),
                row.getString(11));
    }

    private static Optional<Instant> instant(ResultSet row, String column) throws SQLException {
        long value = row.getLong(column);
        return row.wasNull() ? Optional.empty() : Optional.of(Instant.ofEpochMilli(value));
    }

    private static Optional<Double> number(ResultSet row, int column) throws SQLException {
        double value = row.getDouble(column);
        return row.wasNull() ? Optional.empty() : Optional.of(value);
    }
}
