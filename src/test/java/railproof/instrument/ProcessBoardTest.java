package railproof.instrument;

import java.nio.file.Path;
import org.junit.jupiter.api.io.TempDir;

/** The firmware as a process, with sanitizers. */
class ProcessBoardTest extends EmulatedBoardTest {
    ProcessBoardTest(@TempDir Path folder) throws Exception {
        super(EmulatedBoard.process(folder, new Ramps()));
    }
}
