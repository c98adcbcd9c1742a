package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import railproof.base.Measured;
import railproof.base.Unit;
import railproof.profile.Profile;
import railproof.rig.Glance;
import railproof.rig.file.BuiltInFiles;
import railproof.run.Point;
import railproof.run.Quantity;
import railproof.run.RunEvent;
import railproof.run.RunOutcome;
import railproof.run.SafeState;
import railproof.run.Section;
import railproof.run.Setpoint;

class RunStoryTest {
    private final Profile profile = BuiltInFiles.profile("counter-3rail").profile();
    private final RunStory story = new RunStory(profile);
    private int points;

    private void point(String rail, Section section, Quantity quantity, double value, Unit unit) {
        story.accept(new RunEvent.PointTaken(
                points,
                new Point(
                        points++,
                        section,
                        rail,
                        Setpoint.noLoad(115),
                        points,
                        true,
                        Map.of(quantity, Measured.of(value, 0, unit)),
                        OptionalInt.empty(),
                        "")));
    }

    @Test
    void startsWithEverythingDarkAndTheFirstItemNext() {
        RunView view = story.view();
        assertEquals(RunView.Phase.CONNECTING, view.phase());
        assertFalse(view.glance().loadOn() || view.glance().lineOn());
        assertEquals(Section.NO_LOAD, view.next().orElseThrow().section());
    }

    @Test
    void keepsTheNewestReadingOfEveryQuantityOfTheRailAtWork() {
        story.accept(new RunEvent.SectionStarted(0, Section.LOAD_SWEEP, "+5 V", 7));
        point("+5 V", Section.LOAD_SWEEP, Quantity.OUTPUT, 5.01, Unit.VOLT);
        point("+5 V", Section.LOAD_SWEEP, Quantity.RAW, 12, Unit.VOLT);
        point("+5 V", Section.LOAD_SWEEP, Quantity.OUTPUT, 4.99, Unit.VOLT);
        RunView view = story.view();
        assertEquals(
                4.99, view.reading(Quantity.OUTPUT).measured().orElseThrow().value());
        assertEquals(12, view.reading(Quantity.RAW).measured().orElseThrow().value());
        assertEquals(3, view.pointsOf(Section.LOAD_SWEEP).size());
    }

    @Test
    void forgetsTheReadingsOfARailThatIsDone() {
        story.accept(new RunEvent.SectionStarted(0, Section.LOAD_SWEEP, "+5 V", 7));
        point("+5 V", Section.LOAD_SWEEP, Quantity.OUTPUT, 5.01, Unit.VOLT);
        story.accept(new RunEvent.SectionStarted(0, Section.LOAD_SWEEP, "+12 V", 7));
        assertEquals(Optional.empty(), story.view().reading(Quantity.OUTPUT).measured());
        assertEquals(List.of(), story.view().pointsOf(Section.LOAD_SWEEP));
    }

    @Test
    void showsWhatIsOnUntilTheRunIsOver() {
        Glance on = new Glance("+5 V", Map.of("+5 V", new Setpoint("CC", 4, 115)), 115, OptionalDouble.of(5));
        story.accept(new RunEvent.SectionStarted(0, Section.LOAD_SWEEP, "+5 V", 7));
        story.sees(on);
        assertTrue(story.view().glance().loadOn() && story.view().glance().lineOn());
        story.accept(new RunEvent.RunEnded(
                9, Instant.EPOCH, new RunOutcome(RunOutcome.End.STOPPED, "x", List.of(), SafeState.CONFIRMED)));
        story.sees(on);
        assertFalse(story.view().glance().loadOn(), "a late glance after the end");
        assertEquals(RunView.Phase.JUDGING, story.view().phase());
    }

    @Test
    void aStopThatComesAfterTheEndChangesNothing() {
        story.failed("no such port");
        story.stopping();
        assertEquals(RunView.Phase.ENDED, story.view().phase());
        assertEquals("no such port", story.view().trouble());
    }

    @Test
    void tellsTheTimeLeftOnceThereIsAPace() {
        story.accept(new RunEvent.SectionStarted(0, Section.NO_LOAD, "+5 V", 1));
        assertTrue(story.view().leftS().isEmpty());
        for (int i = 0; i < 4; i++) {
            point("+5 V", Section.NO_LOAD, Quantity.OUTPUT, 5, Unit.VOLT);
        }
        RunView view = story.view();
        assertEquals(view.elapsedS() / 4 * (view.planned() - 4), view.leftS().orElseThrow(), 1e-9);
    }

    @Test
    void whatIsOnlyToBeDoneTakesNoAnswer() {
        WindowOperator operator = new WindowOperator(story);
        operator.ask("which lead is on +5 V?");
        assertTrue(story.view().answerable());
        operator.tell("turn the variac up to 115 V");
        assertEquals("turn the variac up to 115 V", story.view().prompt());
        assertFalse(story.view().answerable());
        operator.answered("done");
        assertEquals(Optional.empty(), operator.answer());
    }

    @Test
    void anAnswerWithoutAQuestionGoesNowhere() {
        WindowOperator operator = new WindowOperator(story);
        operator.answered("early");
        operator.ask("turn the variac to 115 V");
        assertEquals(Optional.empty(), operator.answer());
        operator.answered("done");
        assertEquals(Optional.of("done"), operator.answer());
        assertEquals(Optional.empty(), operator.answer(), "an answer counts once");
        operator.withdraw();
        assertEquals("", story.view().prompt());
    }
}
