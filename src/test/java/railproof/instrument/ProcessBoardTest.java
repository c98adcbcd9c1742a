package railproof.instrument;

import java.nio.file.Path;
import org.junit.jupiter.api.io.TempDir;

/**
 * The firmware as a process, with sanitizers. Its clock runs only as long as this program's does, so that a busy computer
 * cannot make a capture overrun; what is about the clock itself is tried on the emulated processor.
 */
class ProcessBoardTest extends EmulatedBoardTest {
    ProcessBoardTest(@TempDir Path folder) throws Exception {
        super(EmulatedBoard.process(folder, new Ramps()));
    }
}
