package railproof.seal;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Stream;
import railproof.record.RunFolder;
import railproof.record.RunIds;
import railproof.seal.Seal.Link;

/** The seals of one run folder, and the way from one run of a unit to the run before. */
final class SealChain {
    private SealChain() {}

    /** The seals among the files, by number; empty where the text is no seal. */
    static SortedMap<Integer, Optional<SealText.Signed>> of(Map<String, Path> files) throws IOException {
        SortedMap<Integer, Optional<SealText.Signed>> seals = new TreeMap<>();
        for (Map.Entry<String, Path> file : files.entrySet()) {
            Optional<Integer> number = SealText.number(file.getKey());
            if (number.isPresent()) {
                seals.put(number.get(), SealText.read(Files.readAllBytes(file.getValue())));
            }
        }
        return seals;
    }

    /** The newest seal of the newest sealed run of the unit before this one, among the folders beside it. */
    static Optional<Link> before(Path folder, String unitSerial) throws IOException {
        Path data = folder.toAbsolutePath().getParent();
        String own = String.valueOf(folder.getFileName());
        if (data == null) {
            return Optional.empty();
        }
        String infix = "_" + RunIds.serial(unitSerial) + "_";
        TreeMap<String, Path> earlier = new TreeMap<>();
        try (Stream<Path> folders = Files.list(data)) {
            for (Path other : (Iterable<Path>) folders::iterator) {
                String name = String.valueOf(other.getFileName());
                if (name.contains(infix) && name.compareTo(own) < 0 && RunFolder.isRun(other)) {
                    earlier.put(name, other);
                }
            }
        }
        for (Path other : earlier.descendingMap().values()) {
            Optional<Link> newest = newest(other, unitSerial);
            if (newest.isPresent()) {
                return newest;
            }
        }
        return Optional.empty();
    }

    private static Optional<Link> newest(Path folder, String unitSerial) throws IOException {
        TreeMap<Integer, Path> seals = new TreeMap<>();
        try (Stream<Path> files = Files.list(folder)) {
            for (Path file : (Iterable<Path>) files::iterator) {
                SealText.number(String.valueOf(file.getFileName())).ifPresent(number -> seals.put(number, file));
            }
        }
        if (seals.isEmpty()) {
            return Optional.empty();
        }
        byte[] bytes = Files.readAllBytes(seals.lastEntry().getValue());
        String name = String.valueOf(seals.lastEntry().getValue().getFileName());
        return SealText.read(bytes)
                .filter(signed -> signed.seal().unitSerial().equals(unitSerial))
                .map(signed -> new Link(String.valueOf(folder.getFileName()), name, SealFiles.sha256(bytes)));
    }
}
