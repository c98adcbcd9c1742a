package railproof.record;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Random;

/** What a kill leaves in a run folder: the beginning of a line that was being written. */
public final class DyingWriter {
    private DyingWriter() {}

    /** Leaves half a row, half an event, or half a capture behind, as a process does that dies in the act. */
    public static void leaveHalfWritten(Path folder, Random random) throws IOException {
        switch (random.nextInt(4)) {
            case 0 -> tear(folder.resolve(PointsTable.FILE), random);
            case 1 -> tear(folder.resolve(EventJson.FILE), random);
            case 2 ->
                Files.writeString(
                        folder.resolve(WaveformTable.FOLDER).resolve("9999.csv.part"), "time_s,output_V\r\n0.0,5.");
            default -> {
                // died between two writes
            }
        }
    }

    private static void tear(Path file, Random random) throws IOException {
        byte[] all = Files.readAllBytes(file);
        int lineEnd = all.length - 1;
        int lineStart = lineEnd;
        while (lineStart > 0 && all[lineStart - 1] != '\n') {
            lineStart--;
        }
        // never the whole line: without its end it counts as torn
        int length = random.nextInt(Math.max(1, lineEnd - lineStart));
        byte[] torn = java.util.Arrays.copyOfRange(all, lineStart, lineStart + length);
        Files.write(file, torn, StandardOpenOption.APPEND);
    }
}
