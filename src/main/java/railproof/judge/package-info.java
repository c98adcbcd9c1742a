/**
 * Readings against limits: verdicts with a stated decision rule. Pure.
 *
 * <p>Decision rules are those of ILAC-G8:09/2019: 4.2.1 simple acceptance; 4.2.2 guard band w = U; 4.2.3 non-binary
 * (pass, conditional pass, conditional fail, fail). Zones are closed; where they meet, the milder verdict holds. An empty
 * acceptance zone is not judged. Risks and the probability of conformity follow JCGM 106:2012. Budgets
 * ({@link railproof.judge.Budget}) have the form of GUM (JCGM 100:2008) 8; load and line regulation carry what one
 * channel shares as fully correlated (GUM 5.2.2).
 *
 * <p>Must not: do I/O, read a clock, or know rigs and instruments.
 * Start reading at {@link railproof.judge.Judgement}.
 */
@NullMarked
package railproof.judge;

import org.jspecify.annotations.NullMarked;
