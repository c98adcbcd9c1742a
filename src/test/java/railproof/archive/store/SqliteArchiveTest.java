package railproof.archive.store;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.BadFileException;

class SqliteArchiveTest extends ArchiveContract {
    @TempDir
    Path data = Path.of("");

    @Override
    ArchiveAddress address() {
        return ArchiveAddress.inFolder(data);
    }

    @Test
    void saysSoWhenTheFileIsNoArchive() throws Exception {
        Files.writeString(
                data.resolve(ArchiveAddress.FILE), "this is no database, and it is longer than its header is");
        String message = String.valueOf(assertThrows(ArchiveException.class, () -> Archive.open(address()))
                .getMessage());
        assertTrue(message.contains(data.resolve(ArchiveAddress.FILE).toString()), message);
    }

    @Test
    void neverShowsAPassword() throws Exception {
        String password = "s3cr%C3%A9t";
        for (String url : new String[] {
            "jdbc:postgresql://127.0.0.1:1/shop?user=bench&password=" + password,
            "jdbc:postgresql://bench:" + password + "@127.0.0.1:1/shop"
        }) {
            ArchiveAddress address = ArchiveAddress.of("--archive", url, "0ther-secret");
            String message = String.valueOf(assertThrows(ArchiveException.class, () -> Archive.open(address))
                    .getMessage());
            for (String shown : new String[] {address.toString(), message, address.hidden("x s3crét 0ther-secret y")}) {
                assertFalse(shown.contains("s3cr"), shown);
                assertFalse(shown.contains("0ther"), shown);
            }
            assertTrue(address.toString().contains("***"), address.toString());
        }
        String refused = String.valueOf(assertThrows(
                        BadFileException.class,
                        () -> ArchiveAddress.of("--archive", "jdbc:other://h/d?password=" + password, ""))
                .getMessage());
        assertFalse(refused.contains("s3cr"), refused);
        assertEquals("x y", ArchiveAddress.inFolder(data).hidden("x y"));
    }
}
