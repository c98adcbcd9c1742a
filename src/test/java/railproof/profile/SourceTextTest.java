package railproof.profile;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

class SourceTextTest {
    /** The one-block example of the secure hash standard (FIPS 180-2, appendix B.1). */
    @Test
    void digestIsSha256OfTheUtf8Bytes() {
        assertEquals(
                "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
                SourceText.of("f", "abc").sha256());
    }
}
