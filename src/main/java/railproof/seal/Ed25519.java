package railproof.seal;

import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.PrivateKey;
import java.security.PublicKey;
import java.security.Signature;
import java.security.SignatureException;
import java.security.spec.X509EncodedKeySpec;
import java.util.HexFormat;

/** Ed25519 of RFC 8032, as every Java platform from 15 on has it; keys as RFC 8410 wraps them. */
final class Ed25519 {
    static final String NAME = "Ed25519";

    /** SubjectPublicKeyInfo up to the 32 bytes of the key (RFC 8410, section 4). */
    private static final String PREFIX = "302a300506032b6570032100";

    private Ed25519() {}

    /** The 32 bytes in hex. */
    static String hex(PublicKey key) {
        String encoded = HexFormat.of().formatHex(key.getEncoded());
        if (!encoded.startsWith(PREFIX) || encoded.length() != PREFIX.length() + 64) {
            throw new IllegalArgumentException("not an Ed25519 key");
        }
        return encoded.substring(PREFIX.length());
    }

    static byte[] sign(PrivateKey key, byte[] message) {
        try {
            Signature signature = Signature.getInstance(NAME);
            signature.initSign(key);
            signature.update(message);
            return signature.sign();
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("every Java platform from 15 on signs with Ed25519", e);
        }
    }

    /** Whether the signature is that of the key over the message; what is no key or no signature does not verify. */
    static boolean verified(String publicKeyHex, byte[] message, byte[] signature) {
        try {
            PublicKey key = KeyFactory.getInstance(NAME)
                    .generatePublic(new X509EncodedKeySpec(HexFormat.of().parseHex(PREFIX + publicKeyHex)));
            Signature check = Signature.getInstance(NAME);
            check.initVerify(key);
            check.update(message);
            return check.verify(signature);
        } catch (SignatureException
                | java.security.InvalidKeyException
                | java.security.spec.InvalidKeySpecException e) {
            return false;
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException("every Java platform from 15 on checks Ed25519", e);
        }
    }
}
