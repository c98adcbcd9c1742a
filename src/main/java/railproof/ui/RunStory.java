package railproof.ui;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import railproof.app.RunResult;
import railproof.base.Reading;
import railproof.procedure.Qualification;
import railproof.profile.Profile;
import railproof.rig.Glance;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.Section;
import railproof.run.Waveform;
import railproof.signal.RippleOrigin;
import railproof.ui.RunView.Phase;

/**
 * Follows a run and always has its newest {@link RunView} at hand.
 *
 * <p>Thread: told from the record writer's, the control and the run's thread; read from any. Nobody waits longer than a
 * change takes.
 */
final class RunStory implements Consumer<RunEvent> {
    private static final int MOST_REMARKS = 50;

    private final Agenda agenda;
    private final int mostPoints;
    private volatile RunView now;

    /** Of a qualification. */
    RunStory(Profile profile) {
        this(profile, Agenda.of(profile), Qualification.expectedPoints(profile), Integer.MAX_VALUE);
    }

    /** Of a burn-in: many hours of rows are not kept, only the newest. */
    static RunStory ofBurnIn(Profile profile) {
        return new RunStory(profile, Agenda.NOTHING, 0, 1);
    }

    private RunStory(Profile profile, Agenda agenda, int planned, int mostPoints) {
        this.agenda = agenda;
        this.mostPoints = mostPoints;
        this.now = new RunView(
                0,
                Phase.CONNECTING,
                profile.rails().get(0).name(),
                Optional.empty(),
                agenda.items().stream().findFirst(),
                planned,
                0,
                List.of(),
                Map.of(),
                Optional.empty(),
                List.of(),
                Glance.DARK,
                "",
                false,
                List.of(),
                Optional.empty(),
                Optional.empty(),
                "");
    }

    /** The newest view. */
    RunView view() {
        return now;
    }

    @Override
    public void accept(RunEvent event) {
        if (event instanceof RunEvent.SectionStarted started) {
            change(draft -> draft.begin(started.section(), started.rail(), agenda));
        } else if (event instanceof RunEvent.PointTaken taken) {
            change(draft -> draft.point(taken.point(), mostPoints));
        } else if (event instanceof RunEvent.WaveformTaken taken) {
            List<RippleOrigin> origins = RawRipple.of(taken.waveform(), view().reading(Quantity.LINE_FREQUENCY));
            change(draft -> {
                draft.capture = Optional.of(taken.waveform());
                draft.rawRipple = origins;
            });
        } else if (event instanceof RunEvent.Note note) {
            String mark = note.level() == RunEvent.Note.Level.WARNING ? "! " : "";
            change(draft -> draft.remark(mark + note.text()));
        } else if (event instanceof RunEvent.RunEnded ended) {
            change(draft -> {
                draft.outcome = Optional.of(ended.outcome());
                draft.phase = Phase.JUDGING;
                draft.glance = Glance.DARK;
                draft.next = Optional.empty();
                draft.prompt = "";
                draft.answerable = false;
            });
        }
        change(draft -> draft.elapsedS = Math.max(draft.elapsedS, event.elapsedS()));
    }

    /** Something worth a line that is not on record. */
    void remarked(String text) {
        change(draft -> draft.remark(text));
    }

    void sees(Glance glance) {
        change(draft -> {
            if (draft.phase != Phase.JUDGING && draft.phase != Phase.ENDED) {
                draft.glance = glance;
            }
        });
    }

    /** Asks the operator, and waits for the answer. */
    void asks(String question) {
        change(draft -> {
            draft.prompt = question;
            draft.answerable = true;
        });
    }

    /** Tells the operator what is to be done; nothing if empty. */
    void tells(String task) {
        change(draft -> {
            draft.prompt = task;
            draft.answerable = false;
        });
    }

    void stopping() {
        change(draft -> {
            if (draft.phase == Phase.CONNECTING || draft.phase == Phase.RUNNING) {
                draft.phase = Phase.STOPPING;
            }
        });
    }

    void ended(RunResult result) {
        change(draft -> {
            draft.result = Optional.of(result);
            draft.outcome = Optional.of(result.run().outcome());
            draft.phase = Phase.ENDED;
        });
    }

    void failed(String trouble) {
        change(draft -> {
            draft.trouble = trouble;
            draft.phase = Phase.ENDED;
            draft.glance = Glance.DARK;
        });
    }

    private synchronized void change(Consumer<Draft> edit) {
        Draft draft = new Draft(now);
        edit.accept(draft);
        now = draft.view();
    }

    /** A view being changed. */
    private static final class Draft {
        private final RunView from;
        private Phase phase;
        private String rail;
        private Optional<Section> section;
        private Optional<Agenda.Item> next;
        private double elapsedS;
        private List<Point> points;
        private Map<Quantity, Reading> latest;
        private Optional<Waveform> capture;
        private List<RippleOrigin> rawRipple;
        private Glance glance;
        private String prompt;
        private boolean answerable;
        private List<String> remarks;
        private Optional<RunOutcome> outcome;
        private Optional<RunResult> result;
        private String trouble;

        Draft(RunView view) {
            from = view;
            phase = view.phase();
            rail = view.rail();
            section = view.section();
            next = view.next();
            elapsedS = view.elapsedS();
            points = view.points();
            latest = view.latest();
            capture = view.capture();
            rawRipple = view.rawRipple();
            glance = view.glance();
            prompt = view.prompt();
            answerable = view.answerable();
            remarks = view.remarks();
            outcome = view.outcome();
            result = view.result();
            trouble = view.trouble();
        }

        void begin(Section begun, String onRail, Agenda agenda) {
            if (phase == Phase.CONNECTING) {
                phase = Phase.RUNNING;
            }
            if (!onRail.isEmpty() && !onRail.equals(rail)) {
                rail = onRail;
                latest = Map.of();
                capture = Optional.empty();
                rawRipple = List.of();
            }
            section = Optional.of(begun);
            next = agenda.after(begun, onRail);
        }

        void point(Point point, int most) {
            List<Point> more = appended(points, point);
            points = more.subList(Math.max(0, more.size() - most), more.size());
            if (point.rail().equals(rail)) {
                Map<Quantity, Reading> merged = new EnumMap<>(Quantity.class);
                merged.putAll(latest);
                merged.putAll(point.readings());
                latest = merged;
            }
        }

        void remark(String text) {
            List<String> more = appended(remarks, text);
            remarks = more.subList(Math.max(0, more.size() - MOST_REMARKS), more.size());
        }

        private static <T> List<T> appended(List<T> list, T last) {
            List<T> more = new ArrayList<>(list);
            more.add(last);
            return more;
        }

        RunView view() {
            return new RunView(
                    from.change() + 1,
                    phase,
                    rail,
                    section,
                    next,
                    from.planned(),
                    elapsedS,
                    points,
                    latest,
                    capture,
                    rawRipple,
                    glance,
                    prompt,
                    answerable,
                    remarks,
                    outcome,
                    result,
                    trouble);
        }
    }
}
