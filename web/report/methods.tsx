/** How the answer was made, in a few plain sentences. */
export function Methods() {
  return (
    <div class="methods">
      <p>
        The log's records are put on passes and row units, and each pass is cut into pieces about 12 m long
        and as wide as the bar. Means, spreads and lowest tenths of depth, gauge-wheel load, skips, doubles,
        rate and speed are compared pass against pass within one soil, and row unit against row unit at the
        same moments; a difference is shown with its interval.
      </p>
      <p>
        A place is called a group only when its plants (or, without counts, its planting) fall short by more
        than chance would show anywhere in a field with nothing wrong, after allowing for the soil zones and
        for neighbouring ground being alike. What could have caused it is weighed root before symptom: speed
        before weight, weight before depth. A cause is named when its probability reaches 70 %; below that,
        the candidates are named with the place to dig.
      </p>
      <p>
        Losses compare a place with what the same ground carries where planting was sound, through published
        responses of yield to missing and late plants; ground claimed by two findings is charged once. Where
        nothing was counted, the loss is what such planting is expected to cost, and says "from the log only".
        Targets and limits without a published source are our judgement. Findings say where to look and what
        to try; they do not replace digging, the planter's operator's manual, the product's label, the
        insurer's adjuster or local rules.
      </p>
    </div>
  );
}
