package railproof.campaign;

/**
 * What a run was doing.
 *
 * @param procedure the one procedure it was made for
 * @param step the part of it
 */
record Phase(String procedure, Step step) {
    /** Parts of a run, as seen from the bench; the first ones are the same whatever the procedure. */
    enum Step {
        CONNECT(true),
        LIMITS(true),
        LINE_UP(true),
        NO_LOAD(true),
        LOAD(false),
        LINE(false),
        LOOK(false),
        CAPTURE(false),
        WAIT(false),
        KEEP(false),
        MAKE_SAFE(true);

        private final boolean common;

        Step(boolean common) {
            this.common = common;
        }

        /** Whether it needs to be gone through with one procedure only. */
        boolean common() {
            return common;
        }
    }

    @Override
    public String toString() {
        return procedure + "/" + step.name().toLowerCase(java.util.Locale.ROOT).replace('_', '-');
    }
}
