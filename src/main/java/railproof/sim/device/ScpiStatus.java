package railproof.sim.device;

import java.util.ArrayDeque;
import java.util.Deque;

/**
 * Status reporting of IEEE 488.2 chapter 11 and SCPI-1999 volume 1 chapter 20/21 (from memory): error queue, standard
 * event register, questionable register, status byte. Thread: confined.
 */
final class ScpiStatus {
    /** Entries the queue holds; the last becomes -350 when more come. */
    static final int QUEUE_LENGTH = 16;

    private static final int POWER_ON = 1 << 7;
    private static final int OPERATION_COMPLETE = 1;

    private record Entry(int code, String text) {}

    private final Deque<Entry> queue = new ArrayDeque<>();
    private int eventRegister = POWER_ON;
    private int eventEnable;
    private int serviceEnable;
    private int questionableCondition;
    private int questionableEvent;
    private int questionableEnable;

    void powerOn() {
        queue.clear();
        eventRegister = POWER_ON;
        eventEnable = 0;
        serviceEnable = 0;
        questionableCondition = 0;
        questionableEvent = 0;
        questionableEnable = 0;
    }

    /** *CLS: queue and event registers, not the enables. */
    void clear() {
        queue.clear();
        eventRegister = 0;
        questionableEvent = 0;
    }

    void report(int code, String text) {
        eventRegister |= eventBit(code);
        if (queue.size() < QUEUE_LENGTH) {
            queue.addLast(new Entry(code, text));
        } else {
            // the oldest stay, the newest place says that something was lost
            queue.removeLast();
            queue.addLast(new Entry(-350, "Queue overflow"));
        }
    }

    private static int eventBit(int code) {
        if (code <= -100 && code > -200) {
            return 1 << 5;
        }
        if (code <= -200 && code > -300) {
            return 1 << 4;
        }
        if (code <= -400 && code > -500) {
            return 1 << 2;
        }
        return 1 << 3;
    }

    String nextError() {
        Entry entry = queue.pollFirst();
        return entry == null ? "0,\"No error\"" : entry.code() + ",\"" + entry.text() + "\"";
    }

    void operationComplete() {
        eventRegister |= OPERATION_COMPLETE;
    }

    int takeEvents() {
        int events = eventRegister;
        eventRegister = 0;
        return events;
    }

    void condition(int bits) {
        questionableEvent |= bits & ~questionableCondition;
        questionableCondition = bits;
    }

    int condition() {
        return questionableCondition;
    }

    int takeQuestionable() {
        int events = questionableEvent;
        questionableEvent = 0;
        return events;
    }

    void questionableEnable(int mask) {
        questionableEnable = mask & 0x7FFF;
    }

    int questionableEnable() {
        return questionableEnable;
    }

    void eventEnable(int mask) {
        eventEnable = mask & 0xFF;
    }

    int eventEnable() {
        return eventEnable;
    }

    void serviceEnable(int mask) {
        serviceEnable = mask & 0xBF; // bit 6 cannot be enabled (488.2, 11.2.2.1, from memory)
    }

    int serviceEnable() {
        return serviceEnable;
    }

    int statusByte() {
        int bits = queue.isEmpty() ? 0 : 1 << 2;
        bits |= (questionableEvent & questionableEnable) == 0 ? 0 : 1 << 3;
        bits |= (eventRegister & eventEnable) == 0 ? 0 : 1 << 5;
        return (bits & serviceEnable) == 0 ? bits : bits | 1 << 6;
    }
}
