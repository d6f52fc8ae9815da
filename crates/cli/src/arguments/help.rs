//! Examples and notes behind the help of each subcommand.

pub(super) const OPEN_HELP: &str = "\
Examples:
  pithward open --small \"22 in\" --butt \"24 1/2 in\" --length \"12 ft\" --species \"white oak\" \\
      --want 2x8x12=6 --want 1x6
  pithward open --small \"14 x 12 1/2 in\" --long-axis 2 --butt 16 --length \"12 ft 4 in\" \\
      --sweep \"2 in toward 6\" --flaw \"rot radius 2 in from butt length 3 ft\" --want 2x6
  pithward open --small \"560 mm\" --butt \"590 mm\" --length \"3.7 m\" \\
      --mill data/mills/small-metric.toml \\
      --want \"50x150x3600 mm=4+\" --want \"25x100up mm\"

A want is a size, how many, and what is allowed:
  2x8x12=6               six, twelve feet long
  2x8x12=6+              six, and more are welcome
  1x6                    as many as come, in every usual length
  4/4x6up                hardwood an inch thick, six inches and wider
  2x6=8,lengths=8/10/12  eight, in any of these lengths (feet; or lengths=2400/3000 mm)
  2x6x12=8,wane=1/2 in   with at most 1/2 in of wood missing at a corner
  2x6x12=8,wane=1/3      with at most a third of the thickness and of the width missing
  6x6x8=4,heart=boxed    with the pith inside each; ,centred=1/2 in keeps it near the middle
  2x6x12=8,heart=free    without the pith; ,clear=1/2 in keeps farther away from it
  1x6,tolerates=stain    stain may be in it (or rot, hollow, shake, split; a stroke between)
  4/4x6up,grade=1 common expected to grade No. 1 Common or better, from what was seen (--seen)
  4/4x6up,rings=quarter  the growth rings at 60 degrees or more (or flat, rift; a stroke between)
Where nobody names a length, every whole foot from 6 ft up is accepted (every 300 mm from
1800 mm up for a size in millimetres).

A direction is an hour of a clock, as one looks at the small end with 12 up: 2, 2:30 or
2 o'clock; or 65 degrees. A place along the log is a distance from the butt; or butt, small end,
or \"2 ft off the small end\". A flaw is what, where in the section and over which stretch, all
of the log where none is written:
  rot radius 3 in from butt length 4 ft    round the pith; so hollow, stain and metal
  metal toward 9 depth 3 in wide 6 in from butt to 5 ft     from the bark inward
  stain toward all round depth 2 in        from the bark inward
  shake radius 4 in from butt to 6 ft      rings that come apart; or inner and outer
  split toward 3 outer 5 in                a plane along the pith, to the bark without outer

What lowers a board's worth and leaves it sawable is told by --seen, each by clock and from the butt:
  knot 2:30 3 ft 2 in 2 in                 2 in across; or at 3 ft 2 in size 2 in
  bump 4 5 ft 3 in grown_over 1 in         a knot that the wood has grown over
  seam 12 butt 6 ft depth 2 in             a crack that has closed; so a scar, with wide and depth
  hole 7 4 ft 1 in depth 3 in
  shell 3 in                               clear wood over a knotty core
  quality clear few knotty unseen          how the quarters about 12, 3, 6 and 9 look

A mill file is TOML or JSON. Copy data/mills/generic.toml and put your own mill's figures in;
without one, a stated generic mill is planned with.";

pub(super) const RESUME_HELP: &str = "\
Examples:
  pithward resume --small 22 --butt \"24 1/2\" --length 12 --want 2x8x12=6 --want 1x6 \\
      --sawn 3 --found \"metal height 9 1/2 in across 6 in at 4 ft\"
  pithward resume farmyard.toml --log A1 --sawn 5 --finished 2,3 \\
      --found \"rot radius 3 in from butt length 5 ft\"
  pithward resume --small 22 --butt \"24 1/2\" --length 12 --want 2x8x12=6 \\
      --cut \"19 1/2, 18 1/4\" --cut \"A down: 16, 14 1/2\" --left 2x8x12=2
  pithward resume --plan farmyard.json --log A1 --sawn 4 --now-sweep \"2 in toward 6\"

The log, the list and the mill are told as they were for the card that is followed (`pithward open`, or the
card of a log of a job by `pithward plan`), so that the same card comes out; or by --plan, the file that
`open --json`, `plan --json` or `resume --json` wrote. Then how far it was followed, and what is otherwise now.

How far: --sawn 7 is seven passes of that card. Where other heights were sawn, tell all of them by
--cut, one for every rest, on the mill's own scale from the top down. The first rest is that of the card; after
it the log is told by a face that is open:
  A down: 9, 8           face A on the bed
  A at the stops: 14     face A against the side stops
  A away: 14             face A away from the stops
  A up: 12 1/2           face A is sawn again

Found: a flaw in the words of `pithward open --help`; or metal where the blade or the detector met it, as the
log lies now: height over the bed, across from the side stops, at how far from the butt. No piece is cut
within an inch of it, or within a radius of your own (radius 2 in).
Metal: stop the blade first, dig it out, scan again; the mill's manual rules. What must be sawn near it comes
as late as the way of sawing lets it.

Measured again: any figure of the tape, as `pithward open --help` says, with now- before its name: --now-small 21,
--now-sweep \"2 in toward 6\", --now-pith-butt \"1 in toward 4\". What is not told stays as it was; what is sawn
stays sawn at its heights.

Wanted now: --left 2x8x12=2 when two more of it are wanted from this log, --also 4x4x8=1 when something is
wanted that was not on the list.";

pub(super) const BUCK_HELP: &str = "\
Examples:
  pithward buck --small \"11 in\" --butt \"19 in\" --length \"42 ft\" --trim 3 \\
      --species \"white oak\" --log-lengths 8/10/12 --want 2x8x12=6 --want 1x6
  pithward buck --small 12 --butt 18 --length \"33 ft\" --trim 3 --crook \"5 in toward 9 at 14 ft\" \\
      --cut-out \"butt to 1 ft\" --shortest 6 --want 6x6x8=2 --want 1x6 --cards

The stem is told as a log is: its small end, its butt, and all that is not round, straight and
sound; a want as `pithward open --help` says. Every mark is a distance from the butt end.

Where a crook bends, where a flare, a flaw or the bow has its end or its middle, a log may begin or
end without being told; what must go into no log is told by --cut-out.

Several stems, and stems beside logs, stand in a job file: see [[stems]] in
data/jobs/crooked-yard.toml, and `pithward plan`.";

pub(super) const COMPARE_HELP: &str = "\
Examples:
  pithward compare data/jobs/oak-faces.toml --log A1
  pithward compare --small 18 --butt 20 --length \"12 ft\" --species \"white oak\" \\
      --seen \"knot 2:30 3 ft 2 in 2 in\" --want 4/4x6up --want 8/4x6up

Through and through, cants, boxed heart, around: for each the pieces, what they are worth, by
expected grade and by growth rings, passes, turns, minutes, and which to choose.
Minutes are by the pace of the mill file. In a job with [worth] hour, or a mill that charges by the hour,
they cost something.";

pub(super) const COUNT_HELP: &str = "\
Examples:
  pithward count 2x6 --small 16 --butt 18 --length 12
  pithward count 4/4x6x8 --small \"410 mm\" --butt \"450 mm\" --length \"2.5 m\" --method through
  pithward count 2x8x12 data/jobs/farmyard.toml

Where neither the size nor --lengths names a length, it is the full length of the log in whole feet.
With a job file, all of its logs are counted, sawn for this size alone, as the file says of mill,
sizes and trim.";

pub(super) const SCALE_HELP: &str = "\
Example:
  pithward scale --small 16 --butt 18 --length \"12 ft 6 in\" --trim 6 \\
      --species \"northern red oak\"";

pub(super) const NEW_HELP: &str = "\
Examples:
  pithward new
  pithward new north-field.toml
  pithward new - | less

The file plans as it stands, from logs and a list that are invented. Put your own in their place:
every line says what may stand there.";

pub(super) const CHECK_HELP: &str = "\
Example:
  pithward check data/jobs/farmyard.toml

Every fault of the job file, and of the sheet of logs and the mill file that it names, is told at
once. A job without a fault is told back as it was understood, so that a slip of the tape shows.";

pub(super) const PLAN_HELP: &str = "\
Examples:
  pithward plan data/jobs/farmyard.toml
  pithward plan data/jobs/farmyard.toml --cards > cards.txt
  pithward plan data/jobs/farmyard.toml --card 7 --card 12
  pithward plan data/jobs/farmyard.toml --json > plan.json
  pithward plan data/jobs/farmyard.toml --rest --cards

`pithward new` writes a job file to begin with. Stems of the job are cut into logs first.

With --rest the logs that the tally (`pithward tally`) has done are out, pieces that are off count,
and changes of the list and what was found in waiting logs hold.

A log that cannot be sawn is told of and left out. Ctrl-C stops the search and prints the best
plan so far; a second one ends at once.";

pub(super) const QUOTE_HELP: &str = "\
Examples:
  pithward quote data/jobs/farmyard.toml
  pithward quote data/jobs/farmyard.toml --paper customer
  pithward quote data/jobs/farmyard.toml --start 8:00 --into papers

Hours follow from the plan by the pace of the mill file ([pace]), the price from its charges
([charges]), fuel, water and blades from its stores ([stores]); the yard ([yard]) and what becomes
of the lumber ([lumber]) are told in the job file. What they leave out is common practice, as
data/mills/generic.toml has it.";

pub(super) const DRAW_HELP: &str = "\
Examples:
  pithward draw data/jobs/farmyard.toml --into pages
  pithward draw data/jobs/farmyard.toml --into pages --piles 500 --start 8:00
  pithward plan data/jobs/farmyard.toml --json > plan.json
  pithward draw plan.json --into pages --svg

The page needs no network and nothing beside it: open it from a file manager. It shows every log step
by step with its pictures. Touch a pass to mark it; marks stay on the device, and what is saved of
them is added to the tally by `pithward tally JOB read FILE`.

With the cards are the papers of the quote, and the bill where there is a tally. Ranges are those of
the promise that `pithward quote JOB --keep` kept; --piles simulates them anew.

To print it, print it from the browser: what is open is what is printed, on as many sheets of A4 or
Letter as it says. A view is named behind the file: farmyard.html#customer.";

pub(super) const NEED_HELP: &str = "\
Examples:
  pithward need --want 2x8x12=40 --want 6x6x10=8 --small 14 --length \"12 ft 4 in\"
  pithward need data/jobs/farmyard.toml --small \"16 in\" --butt \"17 1/2 in\" --length \"16 ft 6 in\" \\
      --species \"white oak\"

Without --butt a taper is assumed, and the answer says which.";

pub(super) const TALLY_HELP: &str = "\
Examples:
  pithward tally farm.toml begin setup
  pithward tally farm.toml on A3
  pithward tally farm.toml off 4 2x8x12 3 1x6x10
  pithward tally farm.toml off planned
  pithward tally farm.toml pause --at 12:05
  pithward tally farm.toml

What can be said; any beginning of a word that no other has will do, and so with logs:
  begin [setup|saw|logs|pack]    work begins or goes on; logs is moving logs that lay badly
  move                           the mill is moved to another pile, until the next log is on
  pause [why]                    work rests, for lunch or because the mill is down: not billed
  stop                           work ends, for the day or for good
  on LOG                         a log comes on the mill; the one before is done
  off [LOG] 4 2x8x12 ...         pieces are off: count and size; 2x8x12,wany keeps a remark
  off [LOG] planned              what the plan says comes of it, less what is off already
  done [LOG]                     nothing more comes of it
  found [LOG] WHAT               something in the log that the plan does not know
  blade [dull|struck|ruined]     a blade comes off, with why behind it
  want SIZE COUNT                the customer wants so many in all; all for as many as come
  note TEXT                      something to remember
  undo [NUMBER]                  the last entry, or that one, does not count
  confirm                        the file of the tally is as it should be, changed lines and all
  read FILE                      add what a page on a phone has exported

Every entry is on the disk before it is printed. Nothing is ever erased: undo is an entry too, and
can be undone. Entries are plain lines; an editor opens the file, and what is changed there is told.
The small file beside it, farm.tally.last, says which entry was the last: so an older copy in the
place of the tally is told. It cannot tell where both are lost, or both come from the same copy.";

pub(super) const BILL_HELP: &str = "\
Examples:
  pithward bill data/jobs/farmyard.toml
  pithward bill data/jobs/farmyard.toml --by foot --markdown
  pithward bill data/jobs/farmyard.toml --into papers

Hours, pieces and blades are those of the tally (`pithward tally`), prices and rules those of the
mill file ([charges]), what was promised is as `pithward quote JOB --keep` kept it. While the tally
does not say that the work is over, the bill says that it is provisional.";
