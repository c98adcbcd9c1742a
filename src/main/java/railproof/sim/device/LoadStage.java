package railproof.sim.device;

import java.util.Locale;
import railproof.sim.LoadCharacteristic;

/**
 * The power stage of the simulated load: mode, levels, the setpoint on its way, and the resulting current at a given
 * terminal voltage. Thread: confined.
 */
final class LoadStage {
    /** Slope with which a constant-voltage load holds its voltage, as a part of the fully conducting load's. */
    private static final double HOLD_RATIO = 0.5;

    /** Nearer to its target than this, as a part of full scale, a setpoint counts as still. */
    private static final double STILL_RATIO = 1e-5;

    /** What is held constant. */
    enum Mode {
        CURRENT("CURR"),
        VOLTAGE("VOLT"),
        RESISTANCE("RES");

        private final String word;

        Mode(String word) {
            this.word = word;
        }

        String word() {
            return word;
        }

        static Mode of(String text) throws ScpiRefusal {
            return switch (text.toUpperCase(Locale.ROOT)) {
                case "CURR", "CURRENT" -> CURRENT;
                case "VOLT", "VOLTAGE" -> VOLTAGE;
                case "RES", "RESISTANCE" -> RESISTANCE;
                default -> throw new ScpiRefusal(-224, "Illegal parameter value");
            };
        }
    }

    private final LoadRatings ratings;
    private final LoadAccuracy accuracy;
    private final SlewedRatio setpoint;
    private Mode mode = Mode.CURRENT;
    private double levelA;
    private double levelV;
    private double levelOhm;
    private boolean on;
    private LoadCharacteristic known = LoadCharacteristic.OPEN;
    private Mode knownMode = Mode.CURRENT;
    private double knownRatio = -1;

    LoadStage(LoadRatings ratings, LoadAccuracy accuracy) {
        this.ratings = ratings;
        this.accuracy = accuracy;
        this.setpoint = new SlewedRatio(ratings.riseS(), ratings.lagS());
        reset();
    }

    void reset() {
        on = false;
        mode = Mode.CURRENT;
        levelA = 0;
        levelV = ratings.maxV();
        levelOhm = ratings.maxOhm();
        setpoint.jumpTo(0);
    }

    boolean on() {
        return on;
    }

    Mode mode() {
        return mode;
    }

    double levelA() {
        return levelA;
    }

    double levelV() {
        return levelV;
    }

    double levelOhm() {
        return levelOhm;
    }

    void levelA(double wantedA) {
        levelA = wantedA;
    }

    void levelV(double wantedV) {
        levelV = wantedV;
    }

    void levelOhm(double wantedOhm) {
        levelOhm = wantedOhm;
    }

    /** On begins from no current; off is at once. */
    void on(boolean wanted, double terminalV) {
        if (on == wanted) {
            return;
        }
        on = wanted;
        setpoint.jumpTo(mode == Mode.VOLTAGE && wanted ? terminalV / ratings.maxV() : 0);
    }

    /** Another mode takes over where the terminals are, without a bump. */
    void mode(Mode wanted, double terminalV, double sunkA) {
        if (wanted == mode) {
            return;
        }
        mode = wanted;
        setpoint.jumpTo(
                switch (wanted) {
                    case CURRENT -> sunkA / ratings.maxA();
                    case VOLTAGE -> terminalV / ratings.maxV();
                    case RESISTANCE -> terminalV > 0 ? Math.min(1, sunkA / terminalV * ratings.onOhm()) : 0;
                });
    }

    void advance(double durationS) {
        if (!on) {
            return;
        }
        setpoint.advance(durationS, targetRatio());
    }

    private double targetRatio() {
        return switch (mode) {
            case CURRENT ->
                Math.max(0, (levelA * (1 + accuracy.settingGainARatio()) + accuracy.settingOffsetA()) / ratings.maxA());
            case VOLTAGE -> levelV / ratings.maxV();
            case RESISTANCE -> ratings.onOhm() / levelOhm;
        };
    }

    /** Whether the setpoint is still on its way, by more than a hundred-thousandth of full scale. */
    boolean moving() {
        return on && Math.abs(targetRatio() - setpoint.valueRatio()) > STILL_RATIO;
    }

    /** The characteristic at this instant; does not change afterwards, and is the same one until something moves. */
    LoadCharacteristic characteristic() {
        if (!on) {
            return LoadCharacteristic.OPEN;
        }
        if (mode != knownMode || setpoint.valueRatio() != knownRatio) {
            known = present();
            knownMode = mode;
            knownRatio = setpoint.valueRatio();
        }
        return known;
    }

    private LoadCharacteristic present() {
        double onOhm = ratings.onOhm();
        double mostA = ratings.maxA() * (1 + Math.max(0, accuracy.settingGainARatio()));
        double ratio = setpoint.valueRatio();
        return switch (mode) {
            case CURRENT -> {
                double wantedA = ratio * ratings.maxA();
                yield voltageV -> Math.max(0, Math.min(wantedA, voltageV / onOhm));
            }
            case VOLTAGE -> {
                double heldV = ratio * ratings.maxV();
                double holdOhm = HOLD_RATIO * onOhm;
                yield voltageV ->
                        Math.max(0, Math.min(Math.min((voltageV - heldV) / holdOhm, voltageV / onOhm), mostA));
            }
            case RESISTANCE -> {
                double siemens = ratio / onOhm;
                yield voltageV -> Math.max(0, Math.min(voltageV * siemens, mostA));
            }
        };
    }
}
