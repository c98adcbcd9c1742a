package railproof.rig.file;

import java.util.List;
import java.util.Optional;

/**
 * One bench, as its rig file describes it. Everything that names something else has been resolved: a position holds
 * its channels, a load its dialect; only links are named, because they are opened later.
 *
 * @param name short name
 * @param title one line for people
 * @param links how instruments are reached; every link serves exactly one instrument
 * @param board the measuring board
 * @param loads electronic loads; at least one
 * @param positions places where a rail can be connected, in order of preference; at least one
 * @param line where the mains of the unit comes from
 * @param interlocks board inputs that must be closed while anything is on
 * @param safety what the bench is built for
 * @param simulation what is behind the memory links; empty for a bench of real instruments
 * @param calibrationFile the board's calibration, relative to the rig file; empty if there is none
 * @param archiveUrl database that runs of this bench are archived in; empty for the one in the data directory
 */
public record RigConfig(
        String name,
        String title,
        List<LinkConfig> links,
        BoardConfig board,
        List<LoadConfig> loads,
        List<PositionConfig> positions,
        LineConfig line,
        List<InterlockConfig> interlocks,
        SafetyConfig safety,
        Optional<SimulationConfig> simulation,
        Optional<String> calibrationFile,
        Optional<String> archiveUrl) {
    public RigConfig {
        links = List.copyOf(links);
        loads = List.copyOf(loads);
        positions = List.copyOf(positions);
        interlocks = List.copyOf(interlocks);
    }

    /**
     * The link of that name.
     *
     * @throws IllegalArgumentException if there is none; names inside a rig file that was read always resolve
     */
    public LinkConfig link(String linkName) {
        return links.stream()
                .filter(link -> link.name().equals(linkName))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no link " + linkName + " in rig " + name));
    }

    /**
     * The load of that name.
     *
     * @throws IllegalArgumentException if there is none
     */
    public LoadConfig load(String loadName) {
        return loads.stream()
                .filter(load -> load.name().equals(loadName))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no load " + loadName + " in rig " + name));
    }
}
