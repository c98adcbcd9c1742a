package railproof.wire;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.StandardProtocolFamily;
import java.net.UnixDomainSocketAddress;
import java.nio.ByteBuffer;
import java.nio.channels.ServerSocketChannel;
import java.nio.channels.SocketChannel;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.SystemClock;

/** Links over real sockets of this machine. */
@Timeout(value = 30, unit = TimeUnit.SECONDS)
class SocketLinkTest {
    private static final long SECOND_NS = 1_000_000_000L;

    private final Path folder;

    SocketLinkTest(@TempDir Path folder) {
        this.folder = folder;
    }

    private static ServerSocketChannel tcp() throws IOException {
        return ServerSocketChannel.open().bind(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0));
    }

    private static SocketLink connect(ServerSocketChannel server) throws IOException {
        InetSocketAddress address = (InetSocketAddress) server.getLocalAddress();
        return SocketLink.tcp("load", SystemClock.INSTANCE, address.getHostString(), address.getPort());
    }

    @Test
    void carriesBytesBothWaysOverTcp() throws Exception {
        try (ServerSocketChannel server = tcp();
                SocketLink link = connect(server);
                SocketChannel far = server.accept()) {
            echo(link, far);
        }
    }

    @Test
    void carriesBytesBothWaysOverAUnixSocket() throws Exception {
        Path path = folder.resolve("s");
        try (ServerSocketChannel server =
                ServerSocketChannel.open(StandardProtocolFamily.UNIX).bind(UnixDomainSocketAddress.of(path))) {
            try (SocketLink link = SocketLink.unix("load", SystemClock.INSTANCE, path);
                    SocketChannel far = server.accept()) {
                echo(link, far);
            }
        }
    }

    private static void echo(SocketLink link, SocketChannel far) throws Exception {
        link.write(new byte[] {1, 2, 3});
        ByteBuffer got = ByteBuffer.allocate(3);
        while (got.hasRemaining()) {
            assertTrue(far.read(got) > 0);
        }
        far.write(got.flip());
        byte[] back = new byte[10];
        int count = 0;
        while (count < 3) {
            byte[] part = new byte[10];
            int n = link.read(part, 5 * SECOND_NS);
            assertTrue(n > 0);
            System.arraycopy(part, 0, back, count, n);
            count += n;
        }
        assertEquals(3, back[2]);
        assertEquals(0, link.read(back, 1));
    }

    @Test
    void staysUsableAfterAnInterrupt() throws Exception {
        try (ServerSocketChannel server = tcp();
                SocketLink link = connect(server);
                SocketChannel far = server.accept()) {
            Thread.currentThread().interrupt();
            assertThrows(InterruptedException.class, () -> link.read(new byte[1], SECOND_NS));
            Thread.currentThread().interrupt();
            assertTrue(link.emergencyWrite(new byte[] {9}));
            assertTrue(Thread.interrupted());

            ByteBuffer got = ByteBuffer.allocate(1);
            assertEquals(1, far.read(got));
            assertEquals(9, got.get(0));
        }
    }

    @Test
    void saysThatTheFarEndHungUp() throws Exception {
        try (ServerSocketChannel server = tcp();
                SocketLink link = connect(server)) {
            server.accept().close();

            LinkDownException gone = assertThrows(LinkDownException.class, () -> link.read(new byte[1], 5 * SECOND_NS));

            assertEquals("link load: the far end closed the connection", gone.getMessage());
        }
    }

    @Test
    void givesUpOnAFarEndThatDoesNotRead() throws Exception {
        try (ServerSocketChannel server = tcp();
                SocketLink link = connect(server);
                SocketChannel far = server.accept()) {
            byte[] block = new byte[1 << 20];
            LinkDownException stalled = assertThrows(LinkDownException.class, () -> {
                for (int k = 0; k < 100; k++) {
                    link.write(block);
                }
            });
            assertTrue(stalled.toString().contains("in 1000 ms"), stalled.toString());
            assertFalse(link.emergencyWrite(new byte[] {1}));
            assertTrue(far.isOpen());
        }
    }

    @Test
    void namesAPlaceWhereNobodyListens() {
        LinkDownException nobody = assertThrows(
                LinkDownException.class, () -> SocketLink.unix("load", SystemClock.INSTANCE, folder.resolve("nobody")));
        assertTrue(nobody.toString().contains("cannot connect to"), nobody.toString());
    }

    @Test
    void failsCleanlyAfterClose() throws Exception {
        try (ServerSocketChannel server = tcp()) {
            SocketLink link = connect(server);
            link.close();
            link.close();
            assertThrows(LinkDownException.class, () -> link.write(new byte[1]));
            assertThrows(LinkDownException.class, () -> link.read(new byte[1], 1));
            assertFalse(link.emergencyWrite(new byte[1]));
        }
    }
}
