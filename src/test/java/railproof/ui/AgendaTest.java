package railproof.ui;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import railproof.rig.file.BuiltInFiles;
import railproof.run.Section;

class AgendaTest {
    private final Agenda agenda = Agenda.of(BuiltInFiles.profile("counter-5v").profile());

    @Test
    void saysWhatComesAfterEachProcedureOfARail() {
        assertEquals(Optional.of(new Agenda.Item(Section.LOAD_SWEEP, "+5 V")), agenda.after(Section.NO_LOAD, "+5 V"));
        assertEquals(
                Optional.of(new Agenda.Item(Section.CURRENT_LIMIT, "+5 V")), agenda.after(Section.LINE_SWEEP, "+5 V"));
    }

    @Test
    void saysNothingAfterTheLastOne() {
        assertEquals(Optional.empty(), agenda.after(Section.CURRENT_LIMIT, "+5 V"));
        assertEquals(Optional.empty(), agenda.after(Section.BURN_IN, "+5 V"));
    }

    @Test
    void everyRailIsLookedAtWithoutLoadBeforeTheFirstIsSwept() {
        Agenda three = Agenda.of(BuiltInFiles.profile("counter-3rail").profile());
        int lastNoLoad = three.items().lastIndexOf(new Agenda.Item(Section.NO_LOAD, "-12 V"));
        int firstSweep = three.items().indexOf(new Agenda.Item(Section.LOAD_SWEEP, "+5 V"));
        assertEquals(lastNoLoad + 1, firstSweep, three.items().toString());
    }
}
