package railproof.archive.store;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;

/** A PostgreSQL of the system's package, in a folder of its own, on loopback, not as root. */
final class PostgresServer implements AutoCloseable {
    static final String PASSWORD = "bench-Pa55";

    private final Path folder;
    private final Path programs;
    private final int port;
    private int databases;

    PostgresServer() throws IOException, InterruptedException {
        programs = programs();
        folder = Files.createTempDirectory("railproof-postgres");
        try (ServerSocket free = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            port = free.getLocalPort();
        }
        Path password = folder.resolve("password");
        Files.writeString(password, PASSWORD + "\n");
        if (asRoot()) {
            run(List.of("chown", "-R", "postgres", folder.toString()));
        }
        run(server(
                "initdb",
                "-D",
                folder.resolve("db").toString(),
                "-U",
                "bench",
                "--auth=scram-sha-256",
                "--pwfile=" + password,
                "-E",
                "UTF8",
                "--no-locale",
                "-N"));
        start();
    }

    void start() throws IOException, InterruptedException {
        run(server(
                "pg_ctl",
                "start",
                "-w",
                "-s",
                "-D",
                folder.resolve("db").toString(),
                "-l",
                folder.resolve("log").toString(),
                "-o",
                "-p " + port + " -h 127.0.0.1 -k " + folder));
    }

    /** At once, connections and all, as a machine that goes down. */
    void stop() throws IOException, InterruptedException {
        run(server(
                "pg_ctl",
                "stop",
                "-w",
                "-s",
                "-m",
                "immediate",
                "-D",
                folder.resolve("db").toString()));
    }

    String url(String database) {
        return "jdbc:postgresql://127.0.0.1:" + port + "/" + database + "?user=bench";
    }

    /** A new database. */
    ArchiveAddress fresh() throws Exception {
        String name = "shop" + ++databases;
        try (java.sql.Connection connection = java.sql.DriverManager.getConnection(url("postgres"), "bench", PASSWORD);
                java.sql.Statement statement = connection.createStatement()) {
            statement.execute("CREATE DATABASE " + name);
        }
        return ArchiveAddress.of("test", url(name), PASSWORD);
    }

    private List<String> server(String program, String... arguments) {
        List<String> command = new ArrayList<>();
        if (asRoot()) {
            command.addAll(List.of("runuser", "-u", "postgres", "--"));
        }
        command.add(programs.resolve(program).toString());
        command.addAll(Arrays.asList(arguments));
        return command;
    }

    private static boolean asRoot() {
        return System.getProperty("user.name").equals("root");
    }

    private static Path programs() throws IOException {
        Path home = Path.of("/usr/lib/postgresql");
        if (!Files.isDirectory(home)) {
            throw new IOException("PostgreSQL is not installed; see .ci/run");
        }
        try (Stream<Path> versions = Files.list(home)) {
            return versions.map(version -> version.resolve("bin"))
                    .filter(Files::isDirectory)
                    .max(Comparator.naturalOrder())
                    .orElseThrow();
        }
    }

    private void run(List<String> command) throws IOException, InterruptedException {
        Path output = Files.createTempFile("railproof-postgres", ".txt");
        Process process = new ProcessBuilder(command)
                .directory(folder.toFile())
                .redirectErrorStream(true)
                .redirectOutput(output.toFile())
                .start();
        boolean ended = process.waitFor(120, TimeUnit.SECONDS);
        if (!ended || process.exitValue() != 0) {
            process.destroyForcibly();
            throw new IOException(command + ": " + Files.readString(output));
        }
        Files.delete(output);
    }

    @Override
    public void close() throws IOException {
        try {
            stop();
            new ProcessBuilder("rm", "-r", folder.toString()).start().waitFor();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IOException("interrupted while the server was stopped", e);
        }
    }
}
