package railproof.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import railproof.base.BadFileException;
import railproof.base.Measured;
import railproof.base.Missing;
import railproof.base.Problem;
import railproof.base.Unit;
import railproof.judge.Check;
import railproof.judge.Judgement;
import railproof.judge.SectionSummary;
import railproof.judge.Verdict;
import railproof.profile.Band;
import railproof.profile.DecisionRule;
import railproof.run.Section;

class JudgementJsonTest {
    private static final Judgement JUDGEMENT = new Judgement(
            "../lab-counter 12",
            "00ff",
            DecisionRule.NON_BINARY,
            List.of(
                    check(new Measured(-0.0, 1e-3, 0.1, 7.5, Unit.VOLT), Band.atMost(0.3), Verdict.PASS),
                    check(Measured.of(Math.PI, 0.01, Unit.VOLT), new Band(-1.5, 4.75), Verdict.CONDITIONAL_FAIL),
                    check(new Missing("no \"probe\"\nfitted"), Band.atLeast(1e-300), Verdict.NOT_JUDGED)),
            List.of(
                    new SectionSummary(
                            Section.HOLD_UP,
                            "+5 V",
                            6,
                            12.25,
                            Math.PI * 10,
                            List.of("hold-up"),
                            Optional.of(Verdict.CONDITIONAL_FAIL),
                            ""),
                    new SectionSummary(
                            Section.DISCHARGE, "-85 V", 0, 0, 0, List.of(), Optional.empty(), "it ended early")));

    @Test
    void aJudgementReadsBackBitForBit() throws BadFileException {
        assertEquals(JUDGEMENT, JudgementJson.read("verdict.json", JudgementJson.write(JUDGEMENT)));
    }

    @Test
    void verdictsAreKeptBesideTheRunUnderHarmlessNames(@TempDir Path data) throws IOException, BadFileException {
        Path first = RunFolder.writeVerdict(data, JUDGEMENT);
        Path later = RunFolder.writeLaterVerdict(data, JUDGEMENT);
        Path again = RunFolder.writeVerdict(data, new Judgement("other", "", DecisionRule.GUARD_BAND, List.of()));
        assertEquals(data.resolve("verdict-lab-counter-12.json"), later);
        assertEquals(first, again);
        assertEquals(JUDGEMENT, RunFolder.readVerdict(later));
        assertEquals("other", RunFolder.readVerdict(RunFolder.verdictFile(data)).profileId());
        try (var files = Files.list(data)) {
            assertEquals(2, files.count());
        }
    }

    @Test
    void aVerdictImprovedByHandIsFound() {
        String text =
                JudgementJson.write(JUDGEMENT).replace("\"overall\" : \"conditional-fail\"", "\"overall\" : \"pass\"");
        BadFileException e = assertThrows(BadFileException.class, () -> JudgementJson.read("verdict.json", text));
        Problem problem = e.problems().get(0);
        assertEquals("overall", problem.key());
        assertTrue(problem.line() == 6 && problem.column() > 1, problem.text());
    }

    @Test
    void allThatIsWrongIsSaidAtOnceWithItsPlace() {
        String text =
                "{\"format_version\":1,\n\"profile_id\":7,\n \"rule\":\"coin\",\n\"overall\":\"pass\",\"checks\":[{}]}";
        BadFileException e = assertThrows(BadFileException.class, () -> JudgementJson.read("v.json", text));
        List<String> places = e.problems().stream()
                .map(p -> p.line() + ":" + p.column() + " " + p.key())
                .toList();
        assertTrue(
                places.containsAll(List.of("2:14 profile_id", "3:9 rule", "1:1 profile_sha256", "4:28 checks[0].id")),
                places.toString());
    }

    @Test
    void brokenJsonIsLocated() {
        BadFileException e =
                assertThrows(BadFileException.class, () -> JudgementJson.read("v.json", "{\n  \"a\": nope}"));
        assertEquals(2, e.problems().get(0).line());
        for (String text : List.of("", "[]", "1", "{}{}", "{\"a\":1,\"a\":2}", "{\"a\":", "\u0000")) {
            assertThrows(BadFileException.class, () -> JudgementJson.read("v.json", text), text);
        }
    }

    @Test
    void theResultOfARunIsOneJsonObjectWithItsJudgement() {
        RandomRuns.Script script = new RandomRuns(401).script(3);
        List<Problem> problems = new ArrayList<>();
        JsonView json = Json.parse("out", 1, RunJson.result(script.whole(), Optional.of(JUDGEMENT)), problems)
                .orElseThrow();
        assertEquals(script.header().unitSerial(), json.text("unit_serial"));
        assertEquals(3, json.count("points"));
        assertEquals("conditional-fail", json.object("judgement").text("overall"));
        script.events().forEach(event -> assertTrue(!RunJson.event(event).contains("\n")));
        assertEquals(List.of(), problems);
    }

    private static Check check(railproof.base.Reading value, Band limit, Verdict verdict) {
        return new Check(
                "load-regulation", "Load regulation", "+5 V", value, 0.2, 2.05, limit, Unit.VOLT, verdict, "at 2 A");
    }
}
