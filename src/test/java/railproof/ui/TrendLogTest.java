package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

class TrendLogTest {
    @Test
    void everyRowIsHandedOverOnceInOrderHoweverManyThereAre() {
        TrendLog log = new TrendLog();
        int known = 0;
        for (int i = 0; i < 5000; i++) {
            log.add("+5 V", 5 + 1e-4 * i);
            log.add("-12 V", -12);
            if (i % 700 == 0) {
                double[] more = log.after("+5 V", known);
                assertEquals(5 + 1e-4 * known, more[0], 1e-12);
                known += more.length;
                assertEquals(i + 1, known);
            }
        }
        assertEquals(5000, log.after("-12 V", 0).length);
        assertArrayEquals(new double[0], log.after("+5 V", 5000));
        assertArrayEquals(new double[0], log.after("+24 V", 0));
    }
}
