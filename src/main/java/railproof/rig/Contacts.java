package railproof.rig;

/**
 * The board's relays and the load contactor. Contacts never switch current: relays move with the contactor open, the
 * contactor with the load's input off; the board refuses anything else.
 *
 * <p>Thread: control thread only.
 */
final class Contacts {
    private final Rig rig;
    private final BenchTalk talk;
    private boolean contactorOn;
    private int relaysOn;

    Contacts(Rig rig, BenchTalk talk) {
        this.rig = rig;
        this.talk = talk;
    }

    /** Switches relays, those in the mask; opens the contactor first if anything changes. */
    void relays(int mask, boolean on) throws RunEndException {
        int wanted = on ? relaysOn | mask : relaysOn & ~mask;
        if (wanted == relaysOn) {
            return;
        }
        if (contactorOn) {
            talk.command(() -> rig.board().loadEnable(false));
            contactorOn = false;
        }
        talk.command(() -> rig.board().relays(mask, on ? mask : 0));
        relaysOn = wanted;
    }

    /** Closes the contactor between unit and loads, if the rig has one. */
    void closeContactor() throws RunEndException {
        if (rig.wiring().loadContactor() && !contactorOn) {
            talk.command(() -> rig.board().loadEnable(true));
            contactorOn = true;
        }
    }
}
