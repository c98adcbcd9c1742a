package railproof.seal;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermission;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.KeyPair;
import java.security.KeyPairGenerator;
import java.security.NoSuchAlgorithmException;
import java.security.PrivateKey;
import java.security.PublicKey;
import java.security.spec.PKCS8EncodedKeySpec;
import java.security.spec.X509EncodedKeySpec;
import java.util.Base64;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import railproof.base.BadFileException;
import railproof.base.Problem;

/**
 * The keys of one bench: its own pair, made on first use and readable by its owner alone, and the public keys of other
 * benches it trusts, copied into {@code trusted/} by hand. PEM files as RFC 7468 and RFC 8410 have them.
 *
 * <p>Thread: any.
 */
public final class KeyFolder {
    /** The private key's file. */
    public static final String PRIVATE_FILE = "seal-key.pem";
    /** The public key's file: what other benches copy into their folder {@code trusted}. */
    public static final String PUBLIC_FILE = "seal-key-public.pem";
    /** Where the public keys of other benches go. */
    public static final String TRUSTED = "trusted";

    private static final String LOCK = "in-use.lock";
    private static final String PRIVATE_LABEL = "PRIVATE KEY";
    private static final String PUBLIC_LABEL = "PUBLIC KEY";
    private static final Set<PosixFilePermission> OTHERS = EnumSet.of(
            PosixFilePermission.GROUP_READ,
            PosixFilePermission.GROUP_WRITE,
            PosixFilePermission.OTHERS_READ,
            PosixFilePermission.OTHERS_WRITE);

    private final Path folder;

    /** Keys in that folder; nothing is read or made yet. */
    public KeyFolder(Path folder) {
        this.folder = folder;
    }

    /** The folder. */
    public Path folder() {
        return folder;
    }

    /** A pair to sign with. */
    record Pair(PrivateKey secret, String publicHex) {}

    /**
     * This bench's own pair; made if there is none.
     *
     * @throws BadFileException if a key file cannot be used, or others may read the private key
     */
    Pair own() throws BadFileException {
        synchronized (KeyFolder.class) {
            try {
                makeFolder();
                // a second process of this user may be making the key at this moment
                try (FileChannel lock = FileChannel.open(
                                folder.resolve(LOCK), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
                        FileLock held = lock.lock()) {
                    if (held.isValid() && !Files.exists(folder.resolve(PRIVATE_FILE))) {
                        make();
                    }
                }
                return read();
            } catch (IOException e) {
                throw bad(folder, "the key cannot be kept or read here: " + e);
            }
        }
    }

    /**
     * The public keys that are known here, in hex: the bench's own if it has one yet, and those in {@code trusted/}.
     *
     * @throws BadFileException if one of them is no Ed25519 public key
     */
    public Set<String> known() throws BadFileException {
        Set<String> known = new TreeSet<>();
        Path own = folder.resolve(PUBLIC_FILE);
        if (Files.exists(own)) {
            known.add(publicHex(own));
        }
        Path trusted = folder.resolve(TRUSTED);
        if (Files.isDirectory(trusted)) {
            try (Stream<Path> files = Files.list(trusted)) {
                for (Path file : files.filter(Files::isRegularFile).sorted().toList()) {
                    known.add(publicHex(file));
                }
            } catch (IOException e) {
                throw bad(trusted, "cannot be listed: " + e);
            }
        }
        return known;
    }

    private void makeFolder() throws IOException {
        if (Files.isDirectory(folder)) {
            return;
        }
        Path above = folder.toAbsolutePath().getParent();
        if (above != null) {
            Files.createDirectories(above);
        }
        Files.createDirectory(folder, permissions("rwx------"));
    }

    private void make() throws IOException {
        KeyPair pair;
        try {
            pair = KeyPairGenerator.getInstance(Ed25519.NAME).generateKeyPair();
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform from 15 on makes Ed25519 keys", e);
        }
        Path publicFile = folder.resolve(PUBLIC_FILE);
        if (Files.exists(publicFile)) {
            // the private half is gone: seals made with it must stay known
            Path trusted = Files.createDirectories(folder.resolve(TRUSTED));
            String name = SealFiles.sha256(Files.readAllBytes(publicFile)).substring(0, 16) + ".pem";
            Files.move(publicFile, trusted.resolve(name), StandardCopyOption.REPLACE_EXISTING);
        }
        // the private key last: where it is, the public one is too
        write(publicFile, "rw-r--r--", PUBLIC_LABEL, pair.getPublic().getEncoded());
        write(
                folder.resolve(PRIVATE_FILE),
                "rw-------",
                PRIVATE_LABEL,
                pair.getPrivate().getEncoded());
    }

    private void write(Path file, String rights, String label, byte[] der) throws IOException {
        String text = "-----BEGIN " + label + "-----\n"
                + Base64.getMimeEncoder(64, new byte[] {'\n'}).encodeToString(der) + "\n-----END " + label + "-----\n";
        Path passing = file.resolveSibling(file.getFileName() + ".part");
        Files.deleteIfExists(passing);
        try (FileChannel channel = FileChannel.open(
                passing, EnumSet.of(StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE), permissions(rights))) {
            ByteBuffer bytes = ByteBuffer.wrap(text.getBytes(StandardCharsets.US_ASCII));
            while (bytes.hasRemaining()) {
                channel.write(bytes);
            }
            channel.force(true);
        }
        Files.move(passing, file, StandardCopyOption.ATOMIC_MOVE);
    }

    private Pair read() throws BadFileException, IOException {
        Path file = folder.resolve(PRIVATE_FILE);
        if (posix() && !java.util.Collections.disjoint(Files.getPosixFilePermissions(file), OTHERS)) {
            throw bad(
                    file,
                    "others than its owner may read this private key; take that away (chmod 600) and think"
                            + " whether somebody has");
        }
        try {
            PrivateKey secret = KeyFactory.getInstance(Ed25519.NAME)
                    .generatePrivate(new PKCS8EncodedKeySpec(pem(file, PRIVATE_LABEL)));
            String publicHex = publicHex(folder.resolve(PUBLIC_FILE));
            byte[] probe = {1};
            if (!Ed25519.verified(publicHex, probe, Ed25519.sign(secret, probe))) {
                throw bad(file, "does not belong to the public key in " + PUBLIC_FILE);
            }
            return new Pair(secret, publicHex);
        } catch (GeneralSecurityException e) {
            throw bad(file, "is no Ed25519 private key");
        }
    }

    private static String publicHex(Path file) throws BadFileException {
        try {
            PublicKey key = KeyFactory.getInstance(Ed25519.NAME)
                    .generatePublic(new X509EncodedKeySpec(pem(file, PUBLIC_LABEL)));
            return Ed25519.hex(key);
        } catch (GeneralSecurityException e) {
            throw bad(file, "is no Ed25519 public key");
        } catch (IOException e) {
            throw bad(file, "cannot be read: " + e);
        }
    }

    private static byte[] pem(Path file, String label) throws IOException, BadFileException {
        String text = Files.readString(file, StandardCharsets.ISO_8859_1).strip();
        String begin = "-----BEGIN " + label + "-----";
        String end = "-----END " + label + "-----";
        if (!text.startsWith(begin) || !text.endsWith(end)) {
            throw bad(file, "must be one PEM block: " + begin + " ... " + end);
        }
        try {
            return Base64.getMimeDecoder().decode(text.substring(begin.length(), text.length() - end.length()));
        } catch (IllegalArgumentException e) {
            throw bad(file, "is no base64 between its PEM lines");
        }
    }

    private boolean posix() {
        return folder.getFileSystem().supportedFileAttributeViews().contains("posix");
    }

    private FileAttribute<?>[] permissions(String rights) {
        // elsewhere a user's own folder is the user's own by default
        return posix()
                ? new FileAttribute<?>[] {PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(rights))}
                : new FileAttribute<?>[0];
    }

    private static BadFileException bad(Path file, String message) {
        return new BadFileException(List.of(new Problem(file.toString(), 0, 0, "", message)));
    }
}
