package railproof.ui;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import railproof.profile.Procedure;
import railproof.profile.Profile;
import railproof.profile.Program;
import railproof.profile.Rail;
import railproof.run.Section;

/**
 * The procedures of a qualification in their order, so that a display can say what comes next. An announcement, not a
 * plan: what is really done the run decides as it goes.
 */
public final class Agenda {
    /** Nothing to come that is announced. */
    static final Agenda NOTHING = new Agenda(List.of());

    private final List<Item> items;

    /** A procedure on a rail; an empty rail means the whole unit. */
    public record Item(Section section, String rail) {}

    private Agenda(List<Item> items) {
        this.items = List.copyOf(items);
    }

    /** What the profile asks for. */
    public static Agenda of(Profile profile) {
        Program program = profile.plan().program();
        List<Item> items = new ArrayList<>();
        for (Rail rail : profile.rails()) {
            if (program.has(Procedure.FIRST_POWER_UP)) {
                items.add(new Item(Section.FIRST_POWER_UP, rail.name()));
            }
        }
        profile.rails().forEach(rail -> items.add(new Item(Section.NO_LOAD, rail.name())));
        for (Rail rail : profile.rails()) {
            for (Procedure procedure : Procedure.values()) {
                if (program.has(procedure)) {
                    section(procedure).ifPresent(section -> items.add(new Item(section, rail.name())));
                }
            }
        }
        if (program.has(Procedure.CROSS_REGULATION)) {
            items.add(new Item(Section.CROSS_REGULATION, ""));
        }
        return new Agenda(items);
    }

    private static Optional<Section> section(Procedure procedure) {
        return switch (procedure) {
            case FIRST_POWER_UP, CROSS_REGULATION -> Optional.empty();
            case LOAD_SWEEP -> Optional.of(Section.LOAD_SWEEP);
            case LINE_SWEEP -> Optional.of(Section.LINE_SWEEP);
            case DROPOUT_LINE -> Optional.of(Section.DROPOUT_LINE);
            case LOAD_STEP -> Optional.of(Section.LOAD_STEP);
            case HOLD_UP -> Optional.of(Section.HOLD_UP);
            case START_UP -> Optional.of(Section.START_UP);
            case CURRENT_LIMIT -> Optional.of(Section.CURRENT_LIMIT);
        };
    }

    /** All items in order. */
    public List<Item> items() {
        return items;
    }

    /** What comes after a section of a rail; empty if that is the last, or not announced. */
    public Optional<Item> after(Section section, String rail) {
        for (int i = 0; i + 1 < items.size(); i++) {
            Item item = items.get(i);
            if (item.section() == section
                    && (item.rail().isEmpty() || item.rail().equals(rail))) {
                return Optional.of(items.get(i + 1));
            }
        }
        return Optional.empty();
    }
}
