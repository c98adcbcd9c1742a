package railproof.report;

import com.google.zxing.BarcodeFormat;
import com.google.zxing.EncodeHintType;
import com.google.zxing.WriterException;
import com.google.zxing.common.BitMatrix;
import com.google.zxing.qrcode.QRCodeWriter;
import com.google.zxing.qrcode.decoder.ErrorCorrectionLevel;
import java.util.Map;

/** A QR code (ISO/IEC 18004) that says which run a certificate is of and the digest its seal signs. */
final class QrPattern {
    private static final int QUIET_MODULES = 4;

    private final BitMatrix matrix;

    private QrPattern(BitMatrix matrix) {
        this.matrix = matrix;
    }

    static QrPattern of(String runId, String recordSha256) {
        try {
            return new QrPattern(new QRCodeWriter()
                    .encode(
                            Words.RUN_MARK + runId + " record-sha256: " + recordSha256,
                            BarcodeFormat.QR_CODE,
                            0,
                            0,
                            Map.of(
                                    EncodeHintType.ERROR_CORRECTION,
                                    ErrorCorrectionLevel.M,
                                    EncodeHintType.CHARACTER_SET,
                                    "UTF-8",
                                    EncodeHintType.MARGIN,
                                    QUIET_MODULES)));
        } catch (WriterException e) {
            throw new IllegalStateException("an id and a digest fit into a QR code", e);
        }
    }

    /** Dark modules one after the other in a row, from {@code left} to before {@code right}. */
    interface Row {
        void dark(int left, int right, int row);
    }

    /** Modules on each side, the quiet zone among them. */
    int size() {
        return matrix.getWidth();
    }

    void paint(Row row) {
        for (int y = 0; y < matrix.getHeight(); y++) {
            int x = 0;
            while (x < matrix.getWidth()) {
                int left = x;
                while (x < matrix.getWidth() && matrix.get(x, y)) {
                    x++;
                }
                if (x > left) {
                    row.dark(left, x, y);
                }
                x++;
            }
        }
    }

    Markup svg() {
        StringBuilder path = new StringBuilder();
        paint((left, right, row) -> path.append('M')
                .append(left)
                .append(' ')
                .append(row)
                .append('h')
                .append(right - left)
                .append("v1h-")
                .append(right - left)
                .append('z'));
        String side = String.valueOf(size());
        return new Markup()
                .add(
                        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\" role=\"img\""
                                + " shape-rendering=\"crispEdges\"><title>QR code</title><path d=\"{}\"/></svg>",
                        side,
                        side,
                        path.toString());
    }
}
