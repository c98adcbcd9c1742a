package railproof.app;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import railproof.rig.ChannelCalibration;
import railproof.rig.file.CalibrationEvidence;
import railproof.rig.file.ChannelConfig;

/** Says in words what a calibration found. */
final class CalibrationReport {
    private final ChannelConfig channel;
    private final ChannelCalibration line;
    private final Calibrator calibrator;
    private final String unit;

    CalibrationReport(ChannelConfig channel, ChannelCalibration line, Calibrator calibrator) {
        this.channel = channel;
        this.line = line;
        this.calibrator = calibrator;
        this.unit = channel.range().unit().symbol();
    }

    void line(List<Double> nominal, List<Double> reference) {
        calibrator.show(channel.name() + ":  level, reference, residual (" + unit + ")");
        for (int i = 0; i < nominal.size(); i++) {
            double residual = reference.get(i) - line.corrected(nominal.get(i));
            calibrator.show(
                    String.format(Locale.ROOT, "  %13.7g %13.7g %+12.3g", nominal.get(i), reference.get(i), residual));
        }
        calibrator.show(String.format(
                Locale.ROOT,
                "  gain %.7f (u %.2g), offset %+.4g %s (u %.2g at %.4g %s), residual sd %.2g %s",
                line.gainRatio(),
                Math.hypot(line.gainURatio(), line.reference().gainURatio()),
                line.offsetDimensionless(),
                unit,
                Math.hypot(line.heightUDimensionless(), line.reference().offsetUDimensionless()),
                line.pivotDimensionless(),
                unit,
                line.residualSdDimensionless(),
                unit));
        double stated = channel.range().gainURatio();
        if (Math.abs(line.gainRatio() - 1) > 3 * stated) {
            calibrator.show(String.format(
                    Locale.ROOT,
                    "  ! the gain is off by more than three times what the rig file states (%.2g): look for the reason",
                    stated));
        }
    }

    void zero(Optional<Double> zero) {
        calibrator.show("  zero check: " + words(zero, 0));
    }

    /**
     * What the lead-drop check found.
     *
     * @param with the line with it, which says what it adds to every reading under load
     */
    void leadDrop(Optional<CalibrationEvidence.LeadDrop> found, ChannelCalibration with) {
        Optional<Double> drop = found.map(CalibrationEvidence.LeadDrop::dropDimensionless);
        calibrator.show(
                "  lead-drop check: " + words(drop, 0.5 * channel.range().fullScaleDimensionless()));
        found.ifPresent(lead -> calibrator.show(String.format(
                Locale.ROOT,
                "  at %.4g A; u of %.2g mOhm between terminals and channel goes into every reading under load",
                lead.currentA(),
                1000 * with.leadUOhm())));
    }

    private String words(Optional<Double> found, double level) {
        if (found.isEmpty()) {
            return "left out";
        }
        double allowed = 2 * uAt(level);
        return String.format(
                Locale.ROOT,
                "%+.3g %s, within U = %.2g %s: %s",
                found.get(),
                unit,
                allowed,
                unit,
                Math.abs(found.get()) <= allowed ? "yes" : "NO - look at leads and connections before using it");
    }

    private double uAt(double level) {
        double fit = Math.hypot(line.heightUDimensionless(), line.gainURatio() * (level - line.pivotDimensionless()));
        double reference = Math.hypot(
                line.reference().offsetUDimensionless(), line.reference().gainURatio() * level);
        return Math.sqrt(
                fit * fit + reference * reference + line.residualSdDimensionless() * line.residualSdDimensionless());
    }
}
