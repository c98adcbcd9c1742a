package railproof.procedure;

/** Whether somebody wants a burn-in to stand still. Thread: asked on the control thread, set from any. */
@FunctionalInterface
public interface HoldSwitch {
    /** Whether load and line are to be off now. */
    boolean held();
}
