package railproof.ui;

import java.util.List;
import java.util.Locale;
import java.util.function.Consumer;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.ProgressBar;
import javafx.scene.control.ScrollPane;
import javafx.scene.control.TextField;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.VBox;
import railproof.profile.Profile;
import railproof.report.RunWords;

/** A run as it goes: the path, the curve being drawn, what happens now and next, and what the operator is asked. */
final class RunPane implements ScreenPane {
    private static final int REMARKS = 6;

    private final Profile profile;
    private final RunSession session;
    private long shownChange = -1;
    private final VBox root = new VBox();
    private final PathPane path;
    private final PlotPane plot = new PlotPane();
    private final CapturePane capture = new CapturePane();
    private final Label now = Forms.words("");
    private final Label next = Forms.words("");
    private final Label left = new Label();
    private final ProgressBar progress = new ProgressBar(0);
    private final Label remarks = Forms.words("");
    private final VBox prompt = new VBox();
    private final Label promptWords = Forms.words("");
    private final HBox answering = Forms.row();
    private final TextField answer = new TextField();

    RunPane(RunSession session) {
        this.session = session;
        this.profile = session.request().profile().profile();
        this.path = new PathPane(profile);
        root.getStyleClass().add("run");
        prompt(session::answer);
        VBox curves = new VBox(plot, capture);
        curves.getStyleClass().add("curves");
        VBox.setVgrow(plot, Priority.ALWAYS);
        HBox.setHgrow(curves, Priority.ALWAYS);
        ScrollPane side = Forms.scroll(nowPane());
        side.getStyleClass().add("now-scroll");
        HBox below = new HBox(curves, side);
        below.getStyleClass().add("below");
        VBox.setVgrow(below, Priority.ALWAYS);
        root.getChildren().addAll(path.root(), prompt, below);
    }

    private VBox nowPane() {
        now.setId("now");
        now.getStyleClass().add("now");
        next.setId("next");
        left.setId("left");
        left.getStyleClass().add("left");
        progress.setMaxWidth(Double.MAX_VALUE);
        progress.setFocusTraversable(false);
        progress.setAccessibleText("How far the run is");
        remarks.setId("remarks");
        remarks.getStyleClass().add("remarks");
        VBox box = new VBox(
                Forms.heading("Now"),
                now,
                progress,
                left,
                Forms.heading("Next"),
                next,
                Forms.heading("Remarks"),
                remarks);
        box.getStyleClass().add("now-pane");
        return box;
    }

    private void prompt(Consumer<String> onAnswer) {
        prompt.getStyleClass().add("prompt");
        // a question is shown whole, whatever has to make room for it
        prompt.setMinHeight(javafx.scene.layout.Region.USE_PREF_SIZE);
        promptWords.setId("prompt");
        promptWords.getStyleClass().add("prompt-words");
        answer.setId("answer");
        answer.setAccessibleText("Answer");
        Button done = new Button("Done  (Enter)");
        done.setId("done");
        done.getStyleClass().add("main-button");
        Runnable send = () -> {
            onAnswer.accept(answer.getText().strip());
            answer.clear();
        };
        done.setOnAction(event -> send.run());
        answer.setOnAction(event -> send.run());
        answering.getChildren().addAll(answer, done);
        prompt.getChildren().addAll(promptWords, answering);
        asks("", false);
    }

    private void asks(String question, boolean answerable) {
        boolean changed = !question.equals(promptWords.getText());
        promptWords.setText(question);
        Forms.show(prompt, !question.isEmpty());
        Forms.show(answering, answerable);
        if (answerable && changed) {
            answer.requestFocus();
        }
    }

    @Override
    public void pulse() {
        RunView view = session.view();
        if (view.change() != shownChange) {
            shownChange = view.change();
            show(view);
        }
    }

    private void show(RunView view) {
        path.show(view);
        plot.show(Plots.of(view, profile));
        capture.show(view.capture());
        asks(view.prompt(), view.answerable());
        now.setText(nowWords(view));
        next.setText(view.next()
                .map(item -> (item.rail().isEmpty() ? "" : item.rail() + ": ") + RunWords.section(item.section()))
                .orElse("verdict"));
        progress.setProgress(view.doneRatio());
        left.setText(view.points().size() + " of about " + view.planned() + " points"
                + (view.leftS().isPresent()
                        ? ", about " + RunWords.duration(view.leftS().getAsDouble()) + " left"
                        : ""));
        List<String> lines = view.remarks();
        remarks.setText(String.join("\n", lines.subList(Math.max(0, lines.size() - REMARKS), lines.size())));
    }

    private static String nowWords(RunView view) {
        return switch (view.phase()) {
            case CONNECTING ->
                view.glance().lineOn()
                        ? "The line is brought up"
                        : "Meeting the instruments; each is switched off first";
            case RUNNING ->
                view.rail() + ": " + view.section().map(RunWords::section).orElse("");
            case STOPPING -> "STOPPING: load off, then line off";
            case JUDGING, ENDED ->
                "Over ("
                        + view.outcome()
                                .map(outcome -> outcome.end().name().toLowerCase(Locale.ROOT))
                                .orElse("no record")
                        + ")";
        };
    }

    @Override
    public Parent root() {
        return root;
    }

    @Override
    public void focus() {
        answer.requestFocus();
    }

    @Override
    public String subject() {
        return StartPane.subject(session.request());
    }

    @Override
    public boolean simulated() {
        return session.simulated();
    }
}
