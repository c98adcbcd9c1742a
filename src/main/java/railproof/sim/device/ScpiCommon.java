package railproof.sim.device;

/**
 * The mandatory common commands of IEEE 488.2 (10.1, table 10-2 from memory) and the status subsystem every SCPI device
 * has (SCPI-1999 volume 1, 4.2.1). Thread: confined.
 */
final class ScpiCommon {
    private final ScpiStatus status;
    private final String identity;
    private final Runnable reset;

    ScpiCommon(ScpiStatus status, String identity, Runnable reset) {
        this.status = status;
        this.identity = identity;
        this.reset = reset;
    }

    void command(String header, ScpiParameters parameters) throws ScpiRefusal {
        switch (header) {
            case "*ESE" -> status.eventEnable(parameters.mask(255));
            case "*SRE" -> status.serviceEnable(parameters.mask(255));
            default -> {
                Runnable action =
                        switch (header) {
                            case "*CLS" -> status::clear;
                            case "*RST" -> reset;
                            case "*OPC" -> status::operationComplete; // nothing here runs on after its command
                            case "*WAI" -> () -> {};
                            default -> throw new ScpiRefusal(-113, "Undefined header");
                        };
                parameters.expectNone();
                action.run();
            }
        }
    }

    String query(String header, ScpiParameters parameters) throws ScpiRefusal {
        parameters.expectNone();
        return switch (header) {
            case "*IDN" -> identity;
            case "*ESR" -> String.valueOf(status.takeEvents());
            case "*ESE" -> String.valueOf(status.eventEnable());
            case "*SRE" -> String.valueOf(status.serviceEnable());
            case "*STB" -> String.valueOf(status.statusByte());
            case "*OPC" -> "1";
            case "*TST" -> "0";
            default -> throw new ScpiRefusal(-113, "Undefined header");
        };
    }

    void installStatus(ScpiEngine engine) {
        engine.onQuery("SYSTem:ERRor[:NEXT]", none(status::nextError));
        engine.onQuery("SYSTem:VERSion", none(() -> "1999.0"));
        engine.onQuery("STATus:QUEStionable[:EVENt]", none(() -> String.valueOf(status.takeQuestionable())));
        engine.onQuery("STATus:QUEStionable:CONDition", none(() -> String.valueOf(status.condition())));
        engine.onQuery("STATus:QUEStionable:ENABle", none(() -> String.valueOf(status.questionableEnable())));
        engine.on("STATus:QUEStionable:ENABle", parameters -> status.questionableEnable(parameters.mask(65535)));
        engine.onQuery("STATus:OPERation[:EVENt]", none(() -> "0"));
        engine.onQuery("STATus:OPERation:CONDition", none(() -> "0"));
        engine.on("STATus:PRESet", parameters -> {
            parameters.expectNone();
            status.questionableEnable(0);
        });
    }

    private static ScpiEngine.Getter none(java.util.function.Supplier<String> answer) {
        return parameters -> {
            parameters.expectNone();
            return answer.get();
        };
    }
}
