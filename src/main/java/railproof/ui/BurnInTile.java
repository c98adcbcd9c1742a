package railproof.ui;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import javafx.scene.AccessibleRole;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.ProgressBar;
import javafx.scene.control.TextField;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;
import railproof.app.RunResult;
import railproof.base.Unit;
import railproof.judge.Judgement;
import railproof.judge.Verdict;
import railproof.procedure.BurnInProgress;
import railproof.report.RunWords;

/** One unit on the wall: what it does, time left, readings and trend of every rail, its own pause and stop. */
final class BurnInTile {
    private final BurnInUnit unit;
    private final VBox box = new VBox();
    private final Label state = new Label();
    private final Label time = Forms.words("");
    private final ProgressBar progress = new ProgressBar(0);
    private final Label readings = Forms.words("");
    private final List<TrendPane> trends = new ArrayList<>();
    private final VBox prompt = new VBox();
    private final Label promptWords = Forms.words("");
    private final HBox answering = Forms.row();
    private final TextField answer = new TextField();
    private final Label remark = Forms.hint("");
    private final Button pause;
    private final Button stop;
    private final Button open;
    private final Button remove;

    /**
     * A tile.
     *
     * @param number its place on the wall, from 1: the key that leads to it
     * @param onOpen told the result, to be shown
     * @param onRemove the unit is over and shall leave the wall
     */
    BurnInTile(int number, BurnInUnit unit, Consumer<KeptRun> onOpen, Runnable onRemove) {
        this.unit = unit;
        String id = "unit-" + number;
        box.setId(id);
        box.getStyleClass().add("tile");
        box.setAccessibleRole(AccessibleRole.PARENT);
        box.setAccessibleText("Unit " + number + ", " + unit.unit());
        Label name = new Label(number + "   " + unit.unit());
        name.setMinWidth(Region.USE_PREF_SIZE);
        name.getStyleClass().add("tile-name");
        Label type = Forms.hint(unit.request().profile().profile().title());
        Region gap = new Region();
        HBox.setHgrow(gap, Priority.ALWAYS);
        state.setId(id + "-state");
        state.setMinWidth(Region.USE_PREF_SIZE);
        state.getStyleClass().add("tile-state");
        time.setId(id + "-time");
        progress.setMaxWidth(Double.MAX_VALUE);
        progress.setMinHeight(Region.USE_PREF_SIZE);
        progress.setFocusTraversable(false);
        progress.setAccessibleText("How far unit " + unit.unit() + " is");
        readings.setId(id + "-readings");
        readings.getStyleClass().add("tile-readings");
        VBox curves = new VBox();
        curves.getStyleClass().add("trends");
        VBox.setVgrow(curves, Priority.ALWAYS);
        unit.request().profile().profile().rails().forEach(rail -> {
            TrendPane trend = new TrendPane(rail);
            VBox.setVgrow(trend, Priority.ALWAYS);
            trends.add(trend);
            curves.getChildren().add(trend);
        });
        pause = Forms.button(id + "-pause", "Pause", () -> unit.pause(!unit.paused()));
        stop = Forms.button(
                id + "-stop",
                "Stop " + unit.unit() + " only",
                () -> unit.stop("stopped by the operator at the window"));
        stop.setAccessibleText("Stop unit " + unit.unit() + " alone; the others go on");
        open = Forms.button(id + "-open", "Verdict", () -> kept().ifPresent(onOpen));
        remove = Forms.button(id + "-remove", "Take off the wall", onRemove);
        prompt(id);
        HBox.setHgrow(remark, Priority.ALWAYS);
        HBox buttons = Forms.row(pause, stop, open, remove, remark);
        box.getChildren().addAll(Forms.row(name, gap, state), type, time, progress, readings, prompt, curves, buttons);
        pulse();
    }

    private void prompt(String id) {
        prompt.getStyleClass().add("prompt");
        answer.setId(id + "-answer");
        answer.setAccessibleText("Answer for unit " + unit.unit());
        Runnable send = () -> {
            unit.answer(answer.getText().strip());
            answer.clear();
        };
        answer.setOnAction(event -> send.run());
        answering.getChildren().addAll(answer, Forms.button(id + "-done", "Done", send));
        prompt.getChildren().addAll(promptWords, answering);
    }

    private Optional<KeptRun> kept() {
        return unit.view()
                .result()
                .map(result -> KeptRun.of(result, unit.request().profile()));
    }

    Parent root() {
        return box;
    }

    BurnInUnit unit() {
        return unit;
    }

    /** Puts the keyboard here. */
    void focus() {
        (unit.over() ? open : pause).requestFocus();
    }

    /** Paints how the unit stands now. */
    void pulse() {
        RunView view = unit.view();
        Optional<BurnInProgress> now = unit.progress();
        boolean over = unit.over();
        state.setText(stateWords(view, now));
        box.getStyleClass().removeAll("tile-on", "health-outside");
        if (over && bad(view)) {
            box.getStyleClass().add("health-outside");
        } else if (Power.of(view).line().state() == Power.State.ON) {
            box.getStyleClass().add("tile-on");
        }
        now.ifPresent(this::show);
        trends.forEach(trend -> trend.take(unit.trends()));
        promptWords.setText(view.prompt());
        Forms.show(prompt, !view.prompt().isEmpty());
        Forms.show(answering, view.answerable());
        List<String> remarks = view.remarks();
        remark.setText(
                view.trouble().isEmpty() ? remarks.isEmpty() ? "" : remarks.get(remarks.size() - 1) : view.trouble());
        pause.setText(unit.paused() ? "Continue" : "Pause");
        pause.setDisable(over);
        stop.setDisable(over || view.phase() == RunView.Phase.STOPPING);
        Forms.show(open, over && view.result().isPresent());
        Forms.show(remove, over);
        Forms.show(pause, !over);
        Forms.show(stop, !over);
    }

    private static boolean bad(RunView view) {
        return view.result()
                        .flatMap(RunResult::judgement)
                        .map(Judgement::overall)
                        .orElse(Verdict.NOT_JUDGED)
                != Verdict.PASS;
    }

    private static String stateWords(RunView view, Optional<BurnInProgress> now) {
        return switch (view.phase()) {
            case CONNECTING -> "meeting the instruments";
            case RUNNING ->
                (now.map(each -> each.phase() == BurnInProgress.Phase.LOADED).orElse(false) ? "● " : "○ ")
                        + now.map(each -> each.phase().words()).orElse("starting up");
            case STOPPING -> "STOPPING";
            case JUDGING -> "being judged";
            case ENDED -> {
                if (view.result().isEmpty()) {
                    yield "✗ no run";
                }
                Verdict verdict = view.result()
                        .flatMap(RunResult::judgement)
                        .map(Judgement::overall)
                        .orElse(Verdict.NOT_JUDGED);
                boolean whole =
                        view.outcome().map(outcome -> outcome.completed()).orElse(false);
                yield VerdictPane.sign(verdict) + " " + verdict.words().toUpperCase(Locale.ROOT)
                        + (whole ? "" : ", not complete");
            }
        };
    }

    private void show(BurnInProgress now) {
        time.setText(RunWords.hours(now.loadedS()) + " of " + RunWords.hours(now.askedS()) + " under load"
                + (unit.over() ? "" : ", about " + RunWords.hours(now.leftS()) + " left"));
        progress.setProgress(now.askedS() > 0 ? Math.min(1, now.loadedS() / now.askedS()) : 0);
        StringBuilder lines = new StringBuilder();
        for (BurnInProgress.RailNow rail : now.rails()) {
            lines.append(lines.length() == 0 ? "" : "\n")
                    .append(rail.name())
                    .append(value("   ripple ", rail.ripplePpV(), Unit.VOLT, " p-p"))
                    .append(value("   heat sink ", rail.heatSinkC(), Unit.CELSIUS, ""))
                    .append(rail.trend().isEmpty() ? "" : "   " + rail.trend());
        }
        readings.setText(lines.toString());
    }

    private static String value(String before, OptionalDouble value, Unit unit, String after) {
        return value.isPresent() ? before + Glances.read(value.getAsDouble(), unit) + after : "";
    }
}
