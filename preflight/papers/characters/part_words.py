"""Words that matter when a reader pairs the name of a part with its reference character. All from memory of English
and of how such papers are written; none is taken from a published list.
"""

from __future__ import annotations

import re


def _words(text: str) -> frozenset[str]:
    return frozenset(re.findall(r"\S+", text))


ARTICLES = _words(
    "the a an said each its their whose my his her our your this that these those every either neither another such"
    " both all any"
    " no some one"
)
"""Words that open a noun phrase: all up to the character belongs to the name."""
MODALS = _words("may can will must shall should could would might cannot does do did not never")
PREPOSITIONS = _words(
    """
    of to from by between in on at with for into onto through within without per via after before above below under
    over around across along against beyond behind beside besides toward towards upon off near about inside outside
    during until till since among amongst throughout beneath underneath adjacent versus like unlike despite than
    past atop amid aboard
    """
)
CONJUNCTIONS = _words(
    "and or nor but if when while where whereby wherein whereas because so as thus then hence therefore although though"
    " unless once whether that which who whom whose what how why plus also and/or & i.e e.g viz namely"
)
_ONES = _words("one two three four five six seven eight nine")
_TENS = _words("twenty thirty forty fifty sixty seventy eighty ninety")
COUNTS = (
    _TENS
    | {f"{tens}-{ones}" for tens in _TENS for ones in _ONES}
    | _words(
        "two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen"
        " eighteen nineteen hundred hundreds thousand thousands several many multiple numerous few more most much less"
        " least other others various plurality pair pairs number total dozen only just"
    )
)
AUXILIARIES = _words(
    "is are was were be been being has have had having it they he she we i you there here them him us itself themselves"
    " now still again already always often usually typically preferably generally optionally alternatively respectively"
    " accordingly finally instead otherwise see together apart away forward forwards backward backwards downward"
    " downwards upward upwards inward inwards outward outwards downstream upstream up down out back e g"
    " likewise moreover furthermore nevertheless nonetheless meanwhile hereby herein hereinafter thereby therein"
    " thereof thereon thereto therewith therefrom thereunder therebetween thereafter therethrough"
)
STOPS = ARTICLES | MODALS | PREPOSITIONS | CONJUNCTIONS | COUNTS | AUXILIARIES
"""Words at which a name cannot go on to the left."""

NOT_OF_THE_NAME = _words(
    """
    said same respective corresponding aforementioned aforesaid above-described above-mentioned present inventive
    illustrated depicted described shown exemplary example optional associated known conventional preferred further
    additional remaining particular given entire whole individual single similar identical different next following
    previous new novel only then also now longer shorter larger smaller higher thicker thinner wider narrower deeper
    greater better
    """
)
"""Words before a name that say nothing about the part."""

OF_NOUNS = _words(
    "axis axes center centre centers centres plane planes point points line lines angle angles direction directions"
    " article articles field source degree degrees path body length width region area"
)
"""Nouns that are named together with what follows "of": the axis of rotation 44."""

ORDINALS = _words("first second third fourth fifth sixth")
BEFORE_A_PLACE = _words(
    "adjacent next close parallel perpendicular relative leads lead passes pass goes go proceeds proceed returns return"
    " due according opposite proximate down up way path access otherwise normal orthogonal connection belongs extends"
    " reaches amounts flows transferred thanks"
)
"""Before "to": what comes is a thing, not a deed. So it is behind participles (coupled to), but for those below."""
BEFORE_A_DEED = _words(
    "configured adapted used designed arranged operated allowed required intended caused enabled programmed operable"
    " permitted needed adjusted actuated shaped sized provided employed utilized controlled instructed positioned"
)
SINGLED_OUT = _words("ones last first next best worst nearest final initial latter former past upcoming oldest newest")
"""Words before a count: "the best 10". "The top 10" may be one too, where things follow."""
OWN_WORK = _words("embodiment embodiments invention disclosure example variant version aspect implementation")
"""What stands between a part and its designation: "a lock according to one embodiment, generally designated 10"."""
ADVERBS_WITH_THE = _words("meantime time way manner case event instance moment point")
ADVERBS_WITH_IN = _words("addition turn fact general particular contrast use operation practice principle total")
"""Nouns that end an adverb of several words: "in the meantime", "in this way", "in operation"."""

TELLING_APART = _words(
    """
    first second third fourth fifth sixth upper lower left right left-hand right-hand inner outer front rear top bottom
    proximal distal male female input output inlet outlet medial lateral anterior posterior dorsal ventral superior
    inferior horizontal vertical axial radial longitudinal transverse positive negative primary secondary tertiary
    hot cold near far odd even middle
    """
)
"""Adjectives that tell parts of one name apart: "the first and second gears 30, 32" are two parts."""

PLACES_AS_ADJECTIVES = _words("adjacent near opposite like inside outside past")
"""Prepositions that are adjectives behind another: "between adjacent cells 208"."""

WAYS = _words("through up down on off in out over under inside outside back forward")
"""Right behind an article these belong to the name: "a through hole 72", "the up button 14"."""
LIKE_STEPS = _words("stage stages phase phases")
"""Counted where the number is small, else the steps of a method: "at stage 120"."""
MEASURES = _words(
    """
    length width height depth thickness diameter radius temperature pressure voltage current speed velocity weight
    mass volume power frequency wavelength distance angle time duration dose concentration yield purity capacity
    torque force load dimension dimensions value score index ratio rate purity strength energy humidity viscosity
    """
)
"""What is measured: "at temperature 350", but "the gap 30" and "the distance 32" are shown."""
NUMBERS = _words("integer factor order sum multiple exponent integers factors")
"""What a number is: "an integer of 2 to 6", "by a factor of 50"."""
PAST = _words(
    """
    bought sold built made found took gave ran lost got kept sent spent won fell rose grew drew wrote chose broke
    brought caught held paid said told had knew began came went became thought
    """
)
"""Irregular verbs in the past: they name no part."""

PARTICIPLES = _words(
    "having including comprising containing carrying using being extending engaging surrounding overlying underlying"
    " defining abutting contacting supporting facing running passing leading causing allowing requiring"
    " becoming making bringing giving taking"
)
"""Inside a name these begin something new, unless an article stands right before: "the surrounding wall 12"."""

ADJECTIVES_IN_ING = _words(
    """
    sliding locking rotating mounting bearing opening closing coupling fitting driving driven retaining steering
    connecting cutting heating cooling guiding sealing measuring processing sensing switching clamping moving swinging
    supporting operating mating folding adjusting biasing charging computing printing imaging scanning lighting
    viewing charging welding drilling grinding milling pumping filling feeding conveying collecting receiving
    transmitting mixing stirring drying separating rolling pressing winding spinning turning pivoting floating rocking
    landing loading holding gripping fastening fixing tensioning damping stabilizing indexing timing focusing focussing
    collimating reflecting refracting polarizing recording playing learning training testing monitoring controlling
    inserting drinking sleeping watering standing hanging bonding wiring routing packing shipping storing blocking
    coding routing gathering piercing tuning ranging
    """
)
"""Participles that are often part of a name: "locking pin 24"."""
VERBS_IN_ING_BEFORE = _words("by before after while when upon without for from start , ; : and or then")
"""Behind these an -ing word that is no usual adjective is a verb: "by pressing button 12"."""
ALWAYS_VERB_BEHIND = _words("by before after while when upon without")
"""... and behind these it always is one."""

NOUNS_IN_S = _words(
    """
    glass gas brass press bus lens process access class cross mass express stainless wireless glasses series means
    chassis axis apparatus status canvas bias radius focus plus minus basis analysis diagnosis synthesis nucleus virus
    fungus stimulus thermos pancreas sales systems goods news sports ss gps pos dns aws ios usb settings contents parts
    lotus census campus corpus cactus citrus penis uterus anus thorax pus bypass compass harness mattress grass moss
    loss boss business fitness witness address dress stress progress success recess excess abscess chess mess less
    compress cypress fortress buttress trellis iris pelvis hypothesis prosthesis orthosis tennis oasis atlas christmas
    ellipsis biceps triceps forceps tongs pliers scissors tweezers sensors electronics optics always
    """
)
"""Nouns that end in s and are no plural, or that stand as plurals before another noun."""
NO_PLURALS = NOUNS_IN_S - _words("glasses systems goods sales settings contents parts sensors tongs pliers scissors")

OTHER_PLURALS = _words("teeth feet people men women children mice vertices indices")

NOUNS_IN_ED = _words("bed seed feed weed reed shed sled need speed breed deed steed led rfid hotbed waterbed flatbed")
NOUNS_IN_LY = _words(
    "assembly subassembly sub-assembly supply family fly ply anomaly belly jelly lily butterfly reply monopoly gully"
    " trolley dolly"
)
NOUNS_IN_ING = _words(
    """
    bearing housing spring ring string wing opening casing bushing fitting coupling lining tubing winding railing
    ceiling sling swing wiring packaging grating coating building mounting heading marking recording landing painting
    stamping casting forging molding moulding cladding sheathing padding bedding piping shielding decking flooring
    roofing siding stuffing packing covering thing king sibling drawing o-ring clothing dressing earring handling
    steering backing facing fastening hinging footing awning icing filling seating plumbing paving plating spacing
    """
)

VERBS = _words(
    """
    contain include comprise exceed equal require need provide produce give reach average weigh total last receive
    send transmit add become remain engage contact connect couple attach insert remove determine detect compute
    compare calculate generate capture obtain select identify perform execute retrieve display apply move push pull
    lift lower raise rotate pivot slide open close press release grasp hold carry keep bring take put let allow
    enable prevent cause make permit use have show illustrate depict describe form define surround enclose extend
    abut face meet join separate divide pass run flow enter leave return direct deliver supply transfer convey
    transport drive turn actuate activate deactivate energize operate control adjust set position place arrange
    mount support secure fasten fix lock unlock tighten loosen disengage unscrew screw heat cool fill empty store
    save load read write update create delete maintain increase decrease reduce represent correspond relate belong
    contact overlap cover expose align receive accept reject process analyze analyse measure sense monitor test
    check start stop begin end continue mix stir dissolve dry filter wash rinse cut bend fold press weld solder glue
    bond train evaluate encrypt decrypt encode decode request respond authenticate launch install configure
    communicate interact grip clamp hook latch touch strike hit cross penetrate pierce compress bias urge force
    stretch tension guide center centre bear wear feed house seat span flank straddle traverse oppose clear follow
    precede accompany share resemble own eat drink watch see find sell buy build break shift swing roll tilt tip
    lean hang stand lie sit rest rise fall sink float drain leak burn melt freeze boil emit absorb reflect refract
    amplify sample log print scan sort count mark label pump spray inject blow suck squeeze twist wind unwind wrap
    pack unload ship mail sign pay charge discharge earn lend draw debit credit trigger toggle click tap swipe type
    view browse search query parse render animate route forward broadcast multicast schedule allocate assign map
    merge split eject expel dispense withdraw
    """
)
"""Verbs in their base form. Many are nouns too, hence they count only where a verb can stand."""
NEVER_NOUNS = _words(
    """
    contain include comprise exceed equal require provide give reach weigh receive send transmit become remain
    engage connect attach remove determine detect compute compare calculate generate obtain select identify perform
    execute retrieve apply allow enable prevent cause make have illustrate depict describe surround enclose extend
    abut disengage maintain represent correspond belong expose accept reject analyze dissolve encrypt decrypt encode
    decode authenticate communicate penetrate reduce add adjust bring take put let keep actuate activate deactivate
    energize deliver convey unscrew tighten loosen rotate operate unlock grasp separate define create withstand
    """
)
"""Those that name no part."""

NO_NAMES = _words(
    """
    fig figs figure figures claim claims paragraph paragraphs patent patents publication serial ser no nos numbers
    equation equations eq eqs chapter vol edition annex appendix cfr usc mpep iso iec ieee rfc din en astm ansi sae
    aisi jis ul mil pct ep wo us gb jp cn de rs seq id ids peg usb hdmi ddr pci sha rsa aes md cat utf ascii http
    https tcp udp ipv ip wi-fi bluetooth windows python java linux android macos ubuntu office excel january
    february march april may june july august september october november december jan feb mar apr jun jul aug sep
    sept oct nov dec summer autumn winter fall year years day days month months week weeks hour hours minutes age
    aged version versions standard standards approximately around nearly roughly exactly exceeds exceed equals equal
    times example examples embodiment embodiments variant variants alternative alternatives comprising made makes
    emits lot grade grades compound compounds formula formulas formulae polysorbate tween nylon polyamide vitamin
    interleukin residue residues exon exons codon nucleotide nucleotides chromosome cohort clone clones strain
    strains lot lots subjects scheme schemes docket dockets assay assays ph error rev revision
    footnote reference references ref refs approx ca circa max min minimum maximum average mean median rank
    ranks scenario episode season highway interstate flight amendment exhibit lemma theorem
    proposition corollary definition remark experiment experiments trial trials comparative et al zip tel
    fax copolymer size shore rockwell mohs omega isotope o'clock amino aka dated anno eur usd gbp chf jpy cny
    dollar dollars euro euros temper apollo boeing airbus covid sars sizes cox mice rats zigbee
    volunteers
    """
)
"""Words right before a number that name no part."""
OFTEN_COUNTED = _words(
    """
    sheet sheets page pages column columns col table tables type types class classes item items line lines section
    sections row rows port ports channel channels room rooms group groups level levels layer layers stage stages
    phase phases version position positions sample samples patient patients subject week bit bits catalyst antibody
    lane lanes gene genes status antibodies peptide ligand intermediate enzyme primer solvent monomer generation
    round tier category street building floor lane series case cases model mesh phone volume code codes polymer
    composition formulation formulations
    article articles entry entries mark rule rules note notes score scores factor alloy
    ratio application question questions option options batch schedule
    salt salts catalysts enzymes gauge protocol clause route attachment cost costs price prices release releases
    """
)
"""Things that are numbered in every text, but may be parts too: "the cover sheet 104"."""
CHEMICAL = re.compile(
    r".*(?:(?:fluor|chlor|brom|iod|ox|hydr|sulf|nitr|cyan|az|am|im|pept)ide|amine|imine|idine|azole|indole|phenol"
    r"|alcohol|diol|aldehyde|ketone|lactone|lactam|ester|ether|nitrile|anhydride|acid|alkane|alkene|alkyne)s?"
)
"""Compounds, which are numbered in every text of chemistry."""
COMPOUNDS = _words("compound compounds product products intermediate intermediates")
OPERATORS = frozenset("=+*/^\u00d7\u00b7\u2264\u2265<>")
"""Between the terms of a formula, behind which its number stands."""
COUNTED_BELOW_TEN = OFTEN_COUNTED | _words(
    "mode modes state states priority priorities byte bytes value values category categories"
    " method procedure scheme algorithm protocol primers step steps iteration run runs test tests query task user users"
    " cycle expression expressions inequality inequalities"
)
"""Small numbers behind these count: "step 3"."""
PARTS_TOO = _words("table sheet line channel port column row layer case")
"""These are parts with a small number too, where an article stands before them: "the layer 3"."""
CLASSES = _words("class type grade schedule category size grit gauge")
"""With a number they are adjectives: "a class 150 flange"."""
PERSONS = _words("user patient subject")
"""Parts behind "a" or "an": "a user 2"."""
MARKED_FIRST = _words(
    """
    table model section group type class example schedule exhibit article rule room method procedure algorithm
    scheme equation compound process protocol formula
    """
)

IDENTIFIED_BY_NUMBER = _words(
    "reference serial model part lot patent application publication item order batch phone telephone docket"
    " registration page catalog catalogue accession version claim paragraph atomic"
)
"""Before "number" these say that what follows is no part: "the serial number 447", but "a sequence number 56"."""

DESIGNATED = _words("designated denoted indicated numbered labeled labelled identified numeral numerals")
"""Words that say outright which character is meant: "a lock, generally designated 10"."""
GATHERED = _words("collectively generally jointly")
SHOWN_AT = _words("shown depicted illustrated represented seen")
BETWEEN_NAME_AND_CHARACTER = (
    DESIGNATED
    | SHOWN_AT
    | _words(
        "generally at by as with the reference number character sign overall broadly collectively a whole and is are"
        " be been has which that being in its entirety referred to"
    )
)

SURELY_DESIGNATES = _words("denotes denote designates designate")
DESIGNATES = SURELY_DESIGNATES | _words("indicates indicate identifies identify represents represent")
"""Between a character and the name behind it: "numeral 12 designates a ski pole"."""

UNCOUNTED = _words("is was has does as its this thus us always plus versus perhaps besides")
"""Words in s behind a character that are neither plural nouns nor verbs of a singular."""
UP_TO = _words("least most than about approximately roughly exactly nearly around")
"""Right before a number they say that it counts."""
CHANGED = _words(
    "increased raised incremented offset multiplied divided reduced decreased differ differs differing higher lower"
    " greater increase raise plus advanced shifted"
)
"""What is changed by a number: "the same numerals increased by 100"."""
OR_SO = _words("more less fewer so greater higher lower larger smaller")
OF_CRYSTALS = _words("crystal crystallographic orientation orientations lattice facet facets")
"""In brackets behind these stand Miller indices."""
GASES = _words("n2 o2 h2 f2 cl2 co2 so2 no2 n2o sf6 cf4 nh3 ch4 h2o")
STRANDS = frozenset(["5'", "3'"])
"""The ends of a strand of nucleic acid."""
SCREWS = _words(
    "bolt bolts screw screws nut nuts thread threads tap paper sheet vitamin coenzyme well wells primer primers"
)
"""Behind these a capital and a number is a size or a place: M8, A4, B12, H11."""
