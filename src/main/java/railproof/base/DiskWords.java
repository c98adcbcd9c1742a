package railproof.base;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystemException;
import java.nio.file.FileSystemLoopException;
import java.nio.file.NoSuchFileException;
import java.nio.file.NotDirectoryException;
import java.nio.file.ReadOnlyFileSystemException;

/** What the disk refused, in words for people: the system's own words where it has any, never the name of a class. */
public final class DiskWords {
    private DiskWords() {}

    /** Why it failed, without the file's name. */
    public static String of(IOException trouble) {
        if (trouble instanceof AccessDeniedException) {
            return "no permission";
        }
        if (trouble instanceof NoSuchFileException) {
            return "it is not there, or a folder on the way to it is not";
        }
        if (trouble instanceof NotDirectoryException) {
            return "a folder is needed here, this is a file";
        }
        if (trouble instanceof FileSystemLoopException) {
            return "its links lead in a circle";
        }
        if (trouble instanceof FileSystemException disk && disk.getReason() != null) {
            return disk.getReason();
        }
        if (trouble instanceof FileAlreadyExistsException) {
            return "there is one of this name already";
        }
        if (trouble instanceof FileSystemException) {
            return "the file system refuses";
        }
        if (trouble.getCause() instanceof ReadOnlyFileSystemException) {
            return "the file system is read-only";
        }
        String message = trouble.getMessage();
        return message == null || message.isBlank() ? "input/output error" : message;
    }
}
