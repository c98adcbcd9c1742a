package railproof.report;

/** The look of the page: black on white, to be printed. */
final class PageStyle {
    static final String CSS =
            """
            @page { size: A4; margin: 16mm; }
            body { font: 10.5pt/1.4 "Liberation Sans", Arial, sans-serif; color: #000; background: #fff;
              max-width: 180mm; margin: 8mm auto; padding: 0 4mm; }
            h1 { font-size: 20pt; margin: 0 0 2mm; border-bottom: 0.6mm solid #000; padding-bottom: 2mm; }
            h2 { font-size: 12.5pt; margin: 7mm 0 2mm; break-after: avoid; }
            h3 { font-size: 10.5pt; margin: 4mm 0 1mm; break-after: avoid; }
            .verdict { font-size: 15pt; font-weight: bold; margin: 3mm 0; }
            .mark { border: 1mm solid #000; padding: 2mm 4mm; margin: 3mm 0; font-size: 17pt; font-weight: bold; }
            .caution { border-left: 1.4mm solid #000; padding-left: 3mm; margin: 1.5mm 0; }
            table { border-collapse: collapse; width: 100%; }
            th, td { text-align: left; vertical-align: top; padding: 1mm 2mm; border-bottom: 0.2mm solid #777; }
            thead th { border-bottom: 0.5mm solid #000; }
            tr { break-inside: avoid; }
            th.side { width: 42mm; font-weight: normal; color: #333; }
            .number { white-space: nowrap; }
            .fail, .conditional-fail, .not-judged { font-weight: bold; }
            .detail { font-size: 9pt; color: #333; }
            .digest { font-family: "Liberation Mono", monospace; font-size: 8pt; overflow-wrap: anywhere; }
            figure { margin: 0; break-inside: avoid; }
            svg { width: 100%; height: auto; }
            svg text { font: 11px "Liberation Sans", Arial, sans-serif; }
            svg .middle { text-anchor: middle; }
            svg .end { text-anchor: end; }
            svg .curve { fill: none; stroke: #000; stroke-width: 1.4; }
            svg .before { fill: none; stroke: #8a4b00; stroke-width: 1.2; stroke-dasharray: 6 3; }
            svg .ring { fill: #fff; stroke: #8a4b00; stroke-width: 1; }
            svg .dot { fill: #000; }
            .qr { width: 26mm; }
            svg .bar { stroke: #000; stroke-width: 1; }
            svg circle.mark { fill: none; stroke: #000; stroke-width: 1.4; }
            svg .grid { stroke: #bbb; stroke-width: 0.6; }
            svg .break { stroke: #444; stroke-width: 0.8; stroke-dasharray: 2 4; }
            svg .band { fill: #e4e4e4; }
            .sign { margin-top: 14mm; display: flex; gap: 14mm; }
            .sign div { flex: 1; border-top: 0.3mm solid #000; padding-top: 1mm; font-size: 9pt; }
            """;

    private PageStyle() {}
}
