// The words of the lessons. All pieces and all that happened to them are invented. What the engine
// counts is never written down here: `{count}` is its count of the verdict asked for, out of 1,000,
// `{before}` the count before the page, `{prior}` the count before any finding, `{guess}` the learner's.

/** The words of one page. */
export interface PageWords {
  /** Its heading. */
  head: string;
  /** Paragraphs, before the guess or above the picture. */
  text: string[];
  /** Paragraphs after the reveal. */
  after?: string[];
}

/** The words of one lesson. */
export interface LessonWords {
  /** Its name. */
  title: string;
  /** What it teaches, in one line. */
  teaches: string;
  /** What the piece turned out to be: an invented story. */
  truth: string;
  /** One for each page, in the same order. */
  pages: PageWords[];
}

/** The words of every lesson, by its id. */
export const lessonWords: Record<string, LessonWords> = {
  "one-at-a-time": {
    title: "One finding at a time",
    teaches: "How evidence adds up, and that no single finding decides.",
    truth:
      "The table was right. It had stood in one family's hall until a removal man dropped a leaf, and a joiner shaved the bruised rim and polished it. He touched nothing else, and the rest of the table had remembered.",
    pages: [
      {
        head: "A thousand oval tables",
        text: [
          "A dealer offers you an oval drop-leaf table on straight legs. It is an invented one, so nobody's feelings can be hurt.",
          "Before you look at it, think of 1,000 tables offered just as this one is. Some are as they were made: we call those original. Some are married, put together from parts of different tables. Some were converted, cut to another shape or size later on. Some are faked, made or dressed up to deceive.",
          "Here they are. Nobody has ever counted such tables. The shares are the guesses of people who have handled many of them, and you may argue with them later.",
        ],
      },
      {
        head: "The leg's own mark",
        text: [
          "You turn the table over: two people, a blanket, and hands on the frame, never on the leaves. Under each leaf a swing leg has scuffed one long arc, and the arc stops where this leg stops.",
          "Before anybody looked, {prior} of 1,000 were original. How many, of those that show this?",
        ],
        after: [
          "The engine says {count}; you said {guess}. A leaf and a leg that have rubbed each other for two centuries belong together, so it is mostly the married tables that drop out.",
          "Those with a re-cut edge stay in. The leg rubs a shortened leaf just as well as a whole one.",
        ],
      },
      {
        head: "Wood has moved",
        text: [
          "There are small splits in the fixed board and the pegs stand a little proud, just where the grain would have it. Wood dries and shrinks across its grain, and the old joints held it back.",
          "It was {before}. What now?",
        ],
        after: [
          "{count}: a small step. It is a true sign of age, but nearly every old table has it, the bad ones too. It speaks only against new wood, and there was little suspicion of that left.",
          "A finding tells you much when it is common in one story and rare in the others. How impressive it looks does not come into it.",
        ],
      },
      {
        head: "A pale edge",
        text: [
          "Now something you will not like. The rim of both leaves is pale and crisp. Two centuries of knees and chair backs should have bruised it.",
          "An oval costs more than the oblong it can be sawn from. It was {before}; where does this leave it?",
        ],
        after: [
          "Down to {count}. A crisp edge is just what a saw leaves. But a polisher leaves one as well, and so does a joiner who trims a bruise, and both of those are honest. So it falls, and does not fall to nothing.",
        ],
      },
      {
        head: "Greasy fingers",
        text: [
          "You feel underneath, along the rim. Everybody who ever lifted a leaf took hold of it there. A dark, greasy band follows the edge all the way round the curve.",
          "It was {before}.",
        ],
        after: [
          "{count}. If the curve had been cut lately, the grease would follow the old straight edge, or be missing. So the pale rim was dressed on top while the outline stayed: that story has gained.",
        ],
      },
      {
        head: "One wide board",
        text: [
          "Some ovals were got by gluing strips to the outer edges of straight leaves and cutting the curve from the strips. You look for a join. Each leaf is a single wide board.",
          "It was {before}.",
        ],
        after: [
          "{count}. That closes one of the ways in which an oval is made out of an oblong. The other, simply sawing one down, is still open.",
        ],
      },
      {
        head: "No older outline",
        text: [
          "So you look for a ghost of one: a knee rub or a dark band that runs straight on where the curve turns away. You trace the underside and find none.",
          "It was {before}.",
        ],
        after: [
          "{count}, and you began at {prior}. Six findings, of which one spoke against the table, and none settled it. That is what ordinary evidence looks like: it accumulates.",
        ],
      },
      {
        head: "Take them out again",
        text: [
          "Strike out findings and put them back. See which ones hold the count up. The largest mover is not always the one that felt the largest.",
          "Then strike out the pale edge alone, and see how much that one costs the table even now.",
        ],
      },
      {
        head: "Where it ends",
        text: [
          "All four counts, before and now. They always add up to 1,000: what one verdict gains the others have lost.",
          "Some doubt is left, and it has a name: the greatest share of it lies with converted tables. If you wanted to go on, you would know where to look.",
        ],
      },
    ],
  },

  "base-rates": {
    title: "Common and dear",
    teaches: "The same findings mean different things on a common table and on a rare one.",
    truth:
      "The plain table was right: a careful owner had its edges cleaned up before a wedding, and the grease was washed off with the polish. Its twin in evidence, the small oval, was sawn from a wider table for a dealer who sold small ones. The two had shown the same two things.",
    pages: [
      {
        head: "A plain table",
        text: [
          "This is a rectangular drop-leaf table, the commonest and cheapest kind. It is invented.",
          "Nobody gains by sawing a table into a rectangle. So among 1,000 offered as such there are hardly any converted ones. Most are as made; those that are not are mostly married.",
        ],
      },
      {
        head: "A crisp edge",
        text: [
          "The edges of the leaves are pale and crisp. This is just what a saw would leave.",
          "Only {prior} of 1,000 such tables were converted before anybody looked. How many are, of those that show this?",
        ],
        after: [
          "The engine says {count}; you said {guess}. The finding has nearly doubled the share, and it is still small. Double of very little is little.",
          "Most crisp edges on plain tables come from polishers and from bruises trimmed off. There are so many right tables that even their rare accidents outnumber the crimes.",
        ],
      },
      {
        head: "No grease below",
        text: [
          "Below the rim you look for the dark band that fingers leave. It is not there.",
          "It was {before}.",
        ],
        after: [
          "{count}. A little more. Two bad signs on one table, and it is still far more likely to be right than cut. Anybody who cries out at two bad signs should be asked how often he has to take it back.",
        ],
      },
      {
        head: "The same on a small oval",
        text: [
          "Now keep both findings exactly as they are. Suppose only that they were found on a small oval table, the kind that sells best and costs several times as much. We put its starting counts in place of the plain table's; nothing else is changed.",
          "Before looking, {prior} of 1,000 small ovals are converted. For the plain table you had just heard {before}. How many now?",
        ],
        after: [
          "{count}. The edge is as crisp as it was. In both tables the two findings roughly double the odds; only, here they double something that was already large.",
          "When people ask what a sign means, the answer is that it depends on what it is found on.",
        ],
      },
      {
        head: "Slide the start",
        text: [
          "Here is the start, to slide for yourself. The findings stay. Only the share of pieces that are not original to begin with changes, from very trusting to very gloomy.",
          "Nobody has published such a share for any kind of furniture. If the verdict changes within the part of the slide that you find believable, then the findings have not settled it. You have to look again, or say so.",
        ],
      },
      {
        head: "One more look at the oval",
        text: [
          "Still the small oval. You lay tracing film on the underside and look for a straight rub that runs across the curve, as an older outline would leave it. There is none.",
          "It was {before}.",
        ],
        after: [
          "{count}. It has come down, though not to what would be comfortable. The small oval would need more of this sort of thing before you wrote a cheque.",
        ],
      },
      {
        head: "Back to the plain one",
        text: [
          "And the plain table, with all three findings? Its own starting counts are put back.",
          "The oval stood at {before}.",
        ],
        after: [
          "{count}, well below the oval, for the same three findings. Good examiners do this without a sum: they look harder at what is dear. The trouble starts when they forget that they are doing it, and mistake the start for something they have seen.",
        ],
      },
      {
        head: "Two verdicts from one list",
        text: [
          "These are the counts of the plain table. One list of findings, two tables, two answers, and neither answer is wrong.",
          "Whenever somebody tells you odds, ask first where they started.",
        ],
      },
    ],
  },

  "double-counting": {
    title: "One saw, many traces",
    teaches: "Several traces of one act are not as many witnesses.",
    truth:
      "It had been a chest of ordinary width. A joiner took out a hand's length so that it would go between a bed and a wall, and the family thought well of him. It was sold as a small chest two generations later by people who had never known it otherwise.",
    pages: [
      {
        head: "A small chest",
        text: [
          "A small chest of drawers on bracket feet, invented. Small ones fit small rooms and fetch more, and so ordinary ones were cut down: a length out of the rails, a length out of every drawer.",
          "These are the shares among 1,000 offered as small chests. They are guesses of practitioners, and this is one of the numbers they argue about.",
        ],
      },
      {
        head: "Dovetails cut twice",
        text: [
          "Take the drawers out one at a time, with somebody to steady the case: a chest with its drawers open can tip. At one end of every drawer front the dovetails were cut afresh. There is no gauge line at that end, and a groove is sawn through.",
          "{prior} of 1,000 were converted before looking.",
        ],
        after: [
          "The engine says {count}; you said {guess}. A strong finding. One drawer with new dovetails is a repair. All of them, at the same end, is a policy.",
        ],
      },
      {
        head: "One end paler",
        text: [
          "At the same end the drawer sides are paler and crisper than at the other.",
          "It was {before}.",
        ],
        after: [
          "{count}. It rises, but think what you have learnt. If drawers are re-jointed at one end, that end will be newer wood. The second finding says much of what the first had said.",
        ],
      },
      {
        head: "Bottoms trimmed",
        text: [
          "The drawer bottoms are trimmed along that side, and their nails were set anew.",
          "It was {before}.",
        ],
        after: [
          "{count}. A drawer cannot be made narrower without its bottom. The step is smaller again, because this is the third report of one afternoon's work.",
        ],
      },
      {
        head: "The back as well",
        text: [
          "With help you ease the chest from the wall. At one end the backboards were sawn, and the row of nails is broken off.",
          "It was {before}.",
        ],
        after: [
          "{count}. Four findings now, all of them plain, and all left by one saw. The man who sawed badly left all four; a careful man would have hidden all four. They come together or not at all.",
        ],
      },
      {
        head: "Added up, and together",
        text: [
          "Two figures. The first adds up what each finding would weigh if it had come alone, as though four strangers had each told you the same thing. The second is what they weigh together, when it is known that they are traces of one act.",
          "The sum is the greater by more than a factor of two in the odds. With ten traces it would be absurd. You would be more certain than anybody has a right to be, for having looked at one cut ten times.",
          "How closely such traces hang together is one more judgement, and not a measurement. That they do is not in doubt.",
        ],
      },
      {
        head: "Strike some out",
        text: [
          "Strike out any one of the four. It costs rather little: the other three still tell of the saw. Now strike out all but one, and see how far a single trace carries.",
          "If losing a finding hardly matters, you had it already.",
        ],
      },
      {
        head: "A witness of another kind",
        text: [
          "You take a tape: the case is two thirds as deep as it is wide, which is deep for a small chest. No saw mark is looked at here, and no joint, and no stain could hide it.",
          "It was {before}.",
        ],
        after: [
          "{count}. Most of the doubt that was left is gone. One measurement of another kind does more here than a fifth saw mark would have done.",
          "When you have three traces of one act, stop hunting for a fourth. Look for something that the same hand could not have faked or spoiled.",
        ],
      },
      {
        head: "Where it stands",
        text: [
          "The four counts. The engine keeps a little for right chests with unlucky drawers and for made-up ones, and so should you.",
          "Do not lean on the last few in a thousand. There are stories that nobody has written down.",
        ],
      },
    ],
  },

  "not-looked": {
    title: "What nobody looked at",
    teaches: "“Not looked” is not “not there”.",
    truth:
      "A good desk and a good bookcase, of about the same years, that met in a saleroom. Somebody chose well: the colour agreed, the width was right and the glass was old. The desk had carried nothing before that but a lamp and somebody's elbows.",
    pages: [
      {
        head: "Desk and bookcase",
        text: [
          "A slant-front desk with a glazed bookcase on it, invented. The first thing to ask of such a piece is whether its two halves began together.",
          "Lonely desks are common and bookcases get parted from theirs. So nearly half of 1,000 offered as one piece are taken to be married, before anybody looks.",
        ],
      },
      {
        head: "From the front",
        text: [
          "You see it against a wall at a crowded viewing. The sides of desk and bookcase agree in figure, colour and shrinkage. The proportions please the eye.",
          "{prior} of 1,000 were married before looking.",
        ],
        after: [
          "The engine says {count}; you said {guess}. Well down. But whoever marries two pieces does it by eye, and what the eye sees from the front is what he took trouble over.",
        ],
      },
      {
        head: "Fine doors",
        text: [
          "The glazing bars are tenoned, each pane by itself in old putty, and there is long wear where hands must have been.",
          "It was {before}.",
        ],
        after: [
          "{count}. A little lower again. Old doors speak against a bookcase made later. They say nothing against an old bookcase from elsewhere, and that is the story to fear.",
        ],
      },
      {
        head: "Three lines in the notebook",
        text: [
          "You write down what is left. The hidden faces between desk and bookcase: not looked, twice over, whether they are bare and whether they are polished. The backs: no access, the piece stands tight against the wall.",
          "Those three entries go into the case. It was {before}. Guess again.",
        ],
        after: [
          "{count}: not moved by one piece in a thousand, and it must not move. “Not looked” and “no access” are notes about you and not about the desk.",
          "Had you written “no” three times over, the engine would have taken you at your word. It would have believed in three looks that nobody took. That is the commonest way to spoil an examination, and it is done with a ballpoint pen.",
        ],
      },
      {
        head: "What you have",
        text: [
          "Here is the list so far. Read it as a stranger would. Everything that spoke was in front; everything that would show a marriage is marked as not seen.",
          "A low count made of such findings is not false. It is unfinished, and the list has to say so.",
        ],
      },
      {
        head: "Away from the wall",
        text: [
          "A week later, by appointment, with two porters. The books are out, the doors off, and the piece is eased from the wall. The backs do not agree: other boards above than below, other nails, another brown.",
          "It was {before}.",
        ],
        after: [
          "{count}. Up, and not all the way: backs were renewed on plenty of right pieces, and that is an honest reading as good as the bad one.",
        ],
      },
      {
        head: "Between the two",
        text: [
          "The porters lift the bookcase off on to blankets: two people at the least, more if it is heavy, with the glazed doors kept upright and nobody's fingers underneath. The top of the desk should be bare and pale where nothing but a bookcase ever stood. It is not.",
          "It was {before}.",
        ],
        after: [
          "{count}. Something that ought to be there is missing. Stain or scrubbing could have taken it away, so there is more to ask of this face.",
        ],
      },
      {
        head: "Polished underneath",
        text: [
          "In a slanting light the desk's top is polished, and under the bookcase there are rings from glasses, ink and scratches.",
          "It was {before}.",
        ],
        after: [
          "{count}. Nobody polishes a face that will be covered, and nobody can set down a glass under a bookcase. This desk stood alone and was lived with.",
          "Even so, a piece long stored in two halves could show the same, and the engine keeps some room for that.",
        ],
      },
      {
        head: "Not the same as wrong",
        text: [
          "The last counts. Nothing from the first visit was wrong: the sides do agree, the bars are tenoned. There was only too little of it, and all from one side.",
          "If you remember one thing, remember the four ways of filling in a line: found, looked for and not there, not looked for, could not get at it. Only the first two are evidence.",
        ],
      },
    ],
  },

  absence: {
    title: "The weight of a no",
    teaches: "What it is worth to look for a thing and not find it.",
    truth:
      "It was right, and plainer than it looked. One back leg had been broken by a trolley, and was spliced so neatly above the knee that it took a hand lens to find the joint. There had never been wine in it; the first owner did not drink.",
    pages: [
      {
        head: "A list of noes",
        text: [
          "A large sideboard on square tapered legs, invented. You will look for seven things today and find not one of them.",
          "Is that good news? It depends on which seven. Here is where you start.",
        ],
      },
      {
        head: "No cross-head screws",
        text: [
          "Lying on your back with a torch, a mask against the dust and eyes half shut against the grit, you look at the screws that hold the top. None has a cross-shaped slot.",
          "{prior} of 1,000 were original before looking. How many are, of those that pass this test?",
        ],
        after: [
          "The engine says {count}; you said {guess}. Next to nothing. Cross-head screws are of our grandparents' time at the earliest, so finding one would say something. But hardly any sideboard has them, the good, the cut or the old copy. Nearly all of them pass, so passing is worth nothing.",
        ],
      },
      {
        head: "No machine dovetails",
        text: [
          "You draw the drawers right out. Their dovetails were cut by hand, a little unevenly.",
          "It was {before}.",
        ],
        after: [
          "{count}. This no is worth something, because many copies would have failed. A no weighs as much as the yes was to be expected from the wrong ones.",
        ],
      },
      {
        head: "The back edge is as it was",
        text: [
          "Deep sideboards were cut at the back to fit shallow rooms. The back edge of top and sides is dark, bruised and dusty; nothing was sawn afresh.",
          "It was {before}.",
        ],
        after: [
          "{count}. Another no that counts. Cutting in depth is one of the likelier things to have happened, and the back edge is the first place to show it.",
        ],
      },
      {
        head: "No sign of wine",
        text: [
          "Now the other sort of no. One deep drawer should have held bottles. You look for slots of partitions, for the ghost of a lead lining, for drip stains. Nothing. (If you do meet old lead, wash your hands before lunch.)",
          "It was {before}.",
        ],
        after: [
          "{count}. Down this time. Here you were looking for a good sign and missed it. It costs something, but not much: linings were torn out, drawers became cupboards, and some households did not drink.",
        ],
      },
      {
        head: "The legs are not one stick",
        text: [
          "Each leg should run in one piece from the floor to the top, with the case tenoned into it. You follow them up. You cannot say that they do: at least one does not.",
          "It was {before}.",
        ],
        after: [
          "{count}. A large step down, for a good sign that most right sideboards have. Legs were exchanged on some, for a lighter pattern. The more a thing belongs there, the more its absence weighs.",
        ],
      },
      {
        head: "No grafts, though",
        text: [
          "If the legs had been exchanged there would be grafts, dowels or blocks under the case, alike on more than one leg. You look for those. None.",
          "It was {before}.",
        ],
        after: [
          "{count}. Up again by a good part of what was lost. Legs that are not one stick and were not grafted on: that begins to sound like a single broken leg.",
        ],
      },
      {
        head: "No stringing cut through",
        text: [
          "Last, the lines of inlay down the legs. When a leg is thinned, the new taper runs through them. Here they run true to the floor.",
          "It was {before}.",
        ],
        after: [
          "{count}. A small step, since it asks about the same legs as the question before.",
          "You began at {prior}. Seven noes, and you stand not far above that. Some of them were worthless, some were worth having, and two of them counted against. Anybody who reports “seven tests passed” has told you nothing.",
        ],
      },
      {
        head: "Which no was worth the trouble?",
        text: [
          "Strike them out one by one. The first can go and you will hardly see it. The legs cannot.",
          "Before you look for anything, ask two questions: how often would a right one have it, and how often would a wrong one? If the answers are alike, save your knees.",
        ],
      },
      {
        head: "A thin case",
        text: [
          "The counts at the end. Nothing here would frighten you and nothing would settle it.",
          "The chances behind each no, how often a right sideboard shows wine or a copy shows machine dovetails, are guesses by people who have seen many. If you have seen more, put in your own.",
        ],
      },
    ],
  },

  innocent: {
    title: "The innocent explanation",
    teaches: "An honest repair can explain a bad sign away, but only what it really did.",
    truth:
      "The top had warped in a dry winter and cracked beside a bearer. A cabinet-maker took it off, put in one new bearer and set the block a quarter turn round, off the crack. Both bills were this table's, and nobody had thrown them away because nobody ever opened that drawer.",
    pages: [
      {
        head: "A table with a bill",
        text: [
          "A plain round table that tilts on a pillar, invented. With it comes a locksmith's bill for a new catch, and it plainly belongs: it describes the catch, the key and the dent beside them.",
          "So one thing is known for certain before you begin, and it stands in the case as known. The counts have moved already. That a catch wore out and was renewed says that the table was long in use, and by the guesses in this pack it happens less to tops that were put on lately. Even a bill is evidence.",
        ],
      },
      {
        head: "Two beds for one catch",
        text: [
          "Tilt the top slowly, a flat hand under it: it shuts on fingers. Catch, bed and bolt mark do not line up, and there is an older bed beside the present one.",
          "Without a bill that would look like a top from another table. It was {before} married of 1,000.",
        ],
        after: [
          "The engine says {count}; you said {guess}. Only a little more. The new catch was known, and a new catch explains a second bed. What is explained already needs no second explanation.",
        ],
      },
      {
        head: "Holes that stop",
        text: [
          "The bearers are the two battens under the top. You probe the empty holes in them, and some stop blind where they meet the top.",
          "Holes that lead nowhere are what is left when something else was screwed here. It was {before}, and no bill says a word about it.",
        ],
        after: [
          "{count}. A large step. A strange top would do this. So would a bearer renewed after a crack, or a top taken off and put back. The engine has raised its opinion of all three at once, for they are rivals for the same holes.",
        ],
      },
      {
        head: "A second print",
        text: [
          "Under the top the block has left its pale square, and beside it is another pale square, which nothing uses now.",
          "It was {before}.",
        ],
        after: [
          "{count}. Up again. A second print can be a second table. It can also be the same block, turned a quarter after the top split. You cannot tell which from the square alone.",
        ],
      },
      {
        head: "Another paper in the drawer",
        text: [
          "At the back of a drawer elsewhere in the house is a cabinet-maker's bill: “to taking off the top of the pillar table and a new bearer”. It does not say which pillar table. Bills travel.",
          "So we do not put it in as known. We make both repairs nearly certain, whatever the table is, and leave all the findings as they were. It was {before}.",
        ],
        after: [
          "{count}. Nothing about the wood has changed, and yet the holes and the print count for much less, because both were now to be expected on a right table.",
          "It did not go back to where it was before the holes were found. A strange top would show the same, bill or no bill; the bill only takes away the surprise.",
        ],
      },
      {
        head: "What no bill can make",
        text: [
          "You lay the block over the pale print with care. It fills one of them exactly, whole, to the last corner.",
          "It was {before}.",
        ],
        after: [
          "{count}. No repair would have made that. A repair can explain a bad sign, and it can wipe out a good one. It hardly ever makes a good one out of nothing.",
        ],
      },
      {
        head: "Explained and unexplained",
        text: [
          "Strike findings out. With the bills in hand, the holes and the second print matter little; the print that fits matters a good deal.",
          "Beware of the easy version. “It was probably repaired” explains everything, and so it explains nothing. Ask which repair, whether that repair would leave this mark, and whether anything else of it can be seen.",
        ],
      },
      {
        head: "Where it stands",
        text: [
          "Beside every bad sign the engine prints its innocent reading. That is not politeness. On old furniture the innocent reading is very often the right one.",
          "How often catches, bearers and tops were renewed is a guess, as everything of this kind is.",
        ],
      },
    ],
  },

  "how-sure": {
    title: "How sure were you?",
    teaches: "A doubtful report weighs less, and a poor visit weakens every report made on it.",
    truth:
      "It was a side chair, given arms about a century ago by somebody who wanted one more armchair at the table. The man cut neat joints for them and they had never come loose; but he did not see the bead that runs on behind, and he had no reason to hide it.",
    pages: [
      {
        head: "Were the arms there first?",
        text: [
          "An open armchair, invented. A side chair costs a good deal less than an armchair, and a pair of arms is a few days' work. So you ask whether this one had its arms from the first.",
          "If they were put on later the verdict is converted, which is a word about the chair and not about anybody's honesty. Here is the start.",
        ],
      },
      {
        head: "“I think so”",
        text: [
          "It is a dim room. Behind one arm the moulding of the post seems to run straight on, as it would if the arm had come later. You would not swear to it, so you mark it doubtful.",
          "{prior} of 1,000 were converted before looking.",
        ],
        after: [
          "The engine says {count}; you said {guess}. It listens, but it does not put its weight on it: a doubtful report is taken as about half a report and half the toss of a coin.",
        ],
      },
      {
        head: "A closer look",
        text: [
          "You fetch a better torch and a hand lens and look once more, at both sides. The bead runs on unbroken behind the arms, old polish and all. This time you are sure.",
          "It was {before}.",
        ],
        after: [
          "{count}. The same sign, but a sure look is another thing than a doubtful one. Most of what you know now comes from the minute with the lens.",
        ],
      },
      {
        head: "The torch was failing",
        text: [
          "Suppose instead that the better torch was dying, that you were tired, and that somebody was waiting to lock up. Nothing you wrote is changed. We only tell the engine that the visit as a whole was more likely a poor one than not.",
          "It was {before}.",
        ],
        after: [
          "{count}. A long way back. In a poor visit every report goes soft together, the sure ones too, because it was one pair of eyes in one bad light.",
          "“Sure” is what you felt. It is not a property of the chair.",
        ],
      },
      {
        head: "More of the same light",
        text: [
          "Still in that light, you lift the covering at the side with the owner's leave, and mind the tacks: they are rusty. The rail should be notched of old where the support stands. You see no notch.",
          "It was {before}.",
        ],
        after: [
          "{count}. It moves the odds, but by less than it would in good light. If the light is poor, more looking in it is not the cure. Better light is.",
        ],
      },
      {
        head: "The torch was good after all",
        text: [
          "Now take that back. The torch was new, there was time, and the visit was an ordinary one. All findings stay.",
          "It was {before}.",
        ],
        after: [
          "{count}. The same words on the same paper. So write down how you looked: the light, the time, how near you got. Without that, whoever reads your list later cannot know which of these two counts is his.",
        ],
      },
      {
        head: "A report that quarrels",
        text: [
          "The owner lets you try the arms, gently and with nobody sitting in the chair. They stand in their joints as if they had never been out: undisturbed. Arms added later should have joints that look it.",
          "It was {before}.",
        ],
        after: [
          "{count}. Down, as it should be; and the engine has also begun to think a little worse of the visit. Reports that quarrel are a reason to doubt the examiner as well as the chair.",
          "It does not ask you which report you like better. It keeps both.",
        ],
      },
      {
        head: "Which report carries it?",
        text: [
          "Strike out the doubtful look, then the sure one. Strike out the quarrelling joint. See where the case really hangs.",
        ],
      },
      {
        head: "Go again",
        text: [
          "Here is the list, with how sure each entry is. When a list quarrels, the remedy is another visit: another day, daylight, another pair of eyes if you have one. In the engine a second visit is entered as such, and its errors are then its own.",
          "How often an examiner is right, sure or doubtful, has never been measured on furniture. These are guesses. They are the ones you could most easily replace, by checking yourself.",
        ],
      },
    ],
  },

  dates: {
    title: "What a machine mark dates",
    teaches: "A mark dates the part it is on. A replaced part is not the whole.",
    truth:
      "The chest above was right and had lost its stand, probably to worm. About a hundred years ago it was given another, honestly enough, by a firm that made such things for people who had inherited half a piece. The cornice had merely been knocked off once and stuck on again.",
    pages: [
      {
        head: "A chest on a stand",
        text: [
          "A chest of drawers on a turned stand, offered as walnut of the early eighteenth century. Invented. Spindly stands break and rot, and few of these chests still stand on their own.",
          "So married leads before anybody has looked. But you will also be asked about faked: is the whole thing a copy?",
        ],
      },
      {
        head: "Hand tools above",
        text: [
          "You draw the upper drawers one at a time and feel the hidden boards of the upper case. There are shallow tracks of a hand plane, all over.",
          "{prior} of 1,000 are taken to be faked before looking.",
        ],
        after: [
          "The engine says {count}; you said {guess}. A step down, not a leap. Copies were planed by machine, but small shops went on planing by hand long after they had to.",
        ],
      },
      {
        head: "Modern glue",
        text: [
          "Firm steps, somebody holding them, and no hand on the cornice, which may only be laid on. You look down behind it with an ultraviolet torch, with goggles on and never toward a face. The glue glows like the glues of the last few generations.",
          "There: something modern. It was {before} faked.",
        ],
        after: [
          "{count}. Hardly up. The glue dates the last gluing of the cornice, and cornices are knocked off at every other removal. It is a modern mark, and it is on the part that least stands for the whole.",
        ],
      },
      {
        head: "No hand tools below",
        text: [
          "Now the stand. You feel for the same plane tracks inside its frame, and they are missing. The question is about married this time.",
          "It was {before} married.",
        ],
        after: [
          "{count}. Here the part is a large one. If all of the piece were new, you would miss the tracks above as well, and there they were. So this goes to the story in which top and bottom are of different dates.",
        ],
      },
      {
        head: "Wire nails below",
        text: [
          "The drawer in the stand is nailed with round wire nails, and so are its runners. There are no older holes beside them. Such nails hardly come before the last quarter of the nineteenth century.",
          "It was {before} married.",
        ],
        after: [
          "{count}. Wire nails are also the commonest repair nail there is, and with older holes beside them they would have said little. Without any, the wood they are in is likely to be as young as they are. It is the wood of the stand, and the stand only.",
        ],
      },
      {
        head: "And the whole?",
        text: [
          "The sides of the upper case have split and drawers have shrunk out of their grooves, just where the grain would have it.",
          "You have modern glue and wire nails on your list. And how many are faked now? It was {before}.",
        ],
        after: [
          "{count}. Modern glue, missing tracks and wire nails might have made somebody cry fake. The engine has less to say for it than before you began: every one of them was on the cornice or on the stand, and the old case speaks for itself.",
        ],
      },
      {
        head: "Wear that does not answer",
        text: [
          "Last, the wear. In a stand that has carried its drawers for three centuries, the runners and the drawer edges are worn to each other. These are not.",
          "It was {before} married.",
        ],
        after: [
          "{count}. A weak sign by itself, since runners are the first thing a restorer renews. It points the same way and the engine takes it for what it is.",
        ],
      },
      {
        head: "Whose date is it?",
        text: [
          "Strike out the wire nails, then the missing tracks, and see how much of the marriage hangs on the stand. Then put them back and strike out the glue. The count goes up: the glue was, if anything, in the way, because marks that are rare one by one make the engine wonder a little about the visit.",
          "Dates of tools and nails rest on printed sources, but the slopes between their edges are judged, and country shops were late with everything.",
        ],
      },
      {
        head: "Part by part",
        text: [
          "The counts at the end. Ask of every mark: what is the largest thing it can date? A nail dates the nailing. A saw mark dates the board. A board dates the part, if it was not patched in. Only when many parts agree do they date the piece.",
        ],
      },
    ],
  },

  "where-next": {
    title: "Where to look next",
    teaches: "A check is worth doing if its answer could change your mind.",
    truth:
      "It had been a press for linen. About 1900 its trays were taken out, the floor of the cupboard was sawn through and the two top drawers were gutted, so that coats could hang. Then somebody papered it all in roses, and the next hundred years saw only the paper.",
    pages: [
      {
        head: "Coats or linen?",
        text: [
          "A press with two doors over drawers, now used for coats, and invented. Presses were made for trays of linen. Many were cut later: the floor sawn out and the top drawers gutted to win height for hanging. Some were made for hanging from the first.",
          "Cut or not cut? You begin with the two nearly even.",
        ],
      },
      {
        head: "A rail",
        text: [
          "You open the doors. There is a rail with hangers on it.",
          "{prior} of 1,000 were converted before looking.",
        ],
        after: [
          "The engine says {count}; you said {guess}. It rises, and still leaves everything open: anybody can screw a rail into an uncut cupboard, and nearly half the right ones have had one.",
        ],
      },
      {
        head: "Ten minutes",
        text: [
          "You have ten minutes, and five things you could do: smell for fresh stain; stand back and look at the whole; sweep it with an ultraviolet torch; read the inside of the cupboard; lift the upper part off with two helpers.",
          "Which of them tells most? Do not choose what is most thorough. Choose the one whose answer you cannot foresee and which would make a difference.",
        ],
        after: [
          "The inside of the cupboard, and by a long way. It is where trays ran or did not, where a floor was sawn or was not. It changes the leading verdict about every other time.",
          "Smell, torch and a long look would tell you next to nothing here, though each has its day elsewhere. Lifting the upper part off is most work and most danger, and answers another question, whether the two parts belong together.",
        ],
      },
      {
        head: "Roses",
        text: [
          "So you read the inside, with a mask on: old cupboards hold dust, and old paint may hold lead, so nothing is scraped. It is papered all over in roses. No bearers for trays. No pegs of the age of the case. The floor seems whole as far as paper lets you see, and you mark that doubtful.",
          "It was {before}.",
        ],
        after: [
          "{count}. The most telling look there was, and it has told hardly anything. That happens. Before you look you know only what a look will tell on average, and paper was in the way.",
        ],
      },
      {
        head: "Choose again",
        text: [
          "What now? Read the back; draw out the drawers below; lift the upper part off; lay the whole thing on its back and read underneath.",
          "The order of worth changes with every answer. What was second best a moment ago may be first now, or not worth doing.",
        ],
        after: [
          "Of these four, the drawers. If the floor was cut for coats, the height was taken from the top drawers, and nobody papers those. More often than not the answer would change which verdict leads.",
          "Lifting the press apart still tells little. Turning it over tells almost nothing and is the best way to be hurt. Some people do the heaviest check first because it feels like work.",
        ],
      },
      {
        head: "Behind the top drawers",
        text: [
          "The two top drawers do not come out: their fronts are fixed. From below you see that their sides were sawn off, and the runners they once slid on are still there. They were not made as dummies; they were made into them.",
          "It was {before}.",
        ],
        after: [
          "{count}. A few minutes and no lifting. They had looked like drawers the whole time, which was the idea.",
        ],
      },
      {
        head: "Back to the floor",
        text: [
          "Now you know where to look twice. By the owner's leave you look again where the paper had come loose long ago, and tear none. Under the roses the edge of the floor is sawn, and a strip was set in to make it good. This time you are sure.",
          "It was {before}.",
        ],
        after: [
          "{count}. Your first look had said the opposite, doubtfully. Both stand in the case, and the sure one carries it. Had you written “no” without the doubt, you would have had more to climb.",
        ],
      },
      {
        head: "Anything left?",
        text: [
          "Four more looks: the undersides of the drawers; lifting the upper part off; turning it over; going through the family's papers for an afternoon.",
          "Which would tell most now?",
        ],
        after: [
          "None of them tells enough to matter. There is no longer a look on the list with any real chance of changing which verdict leads. That is the moment to stop, whatever is still unexplored.",
          "To stop is not to be certain. It means that more looking will not help; if you are wrong now, then for a reason that these looks would not show.",
        ],
      },
      {
        head: "Where it ends",
        text: [
          "Most of what could be looked at was not, and it did not matter. A list with everything ticked is a sign of patience. A list with the right things ticked is a sign of thought.",
          "What each look is expected to tell comes out of the same guessed numbers as the rest. Trust the order of them further than the figures.",
        ],
      },
    ],
  },

  "whose-priors": {
    title: "Whose starting odds?",
    teaches: "Two honest people may start apart; evidence brings them nearer, and you should show both.",
    truth:
      "Six chairs out of a dozen, divided between two sisters, and never mended by anybody who did not have to. The sceptic was pleased to be wrong. The optimist did not notice that he might have been.",
    pages: [
      {
        head: "Six chairs",
        text: [
          "A set of six side chairs with pierced backs, invented. A set is worth more than its chairs, and so sets get longer: filled up, stretched, or joined from two that nearly match.",
          "Nobody has counted how many. These 1,000 sets are divided as the writer of the pack would divide them, and he would like to be contradicted by somebody who knows better.",
        ],
      },
      {
        head: "One timber, one size",
        text: [
          "You stand them in a row, lifting each by its seat rail and not by its crest. They are of one timber, and their heights do not fall into two families.",
          "{prior} of 1,000 sets were original before looking.",
        ],
        after: [
          "The engine says {count}; you said {guess}. Two joined sets would often have shown two families. A copied set, on the other hand, is all of one timber and one size, and is not much troubled.",
        ],
      },
      {
        head: "The optimist",
        text: [
          "A colleague buys from old houses only. He has seen few bad sets and says so: of 1,000 offered to him, {prior} are original before he looks. We put his starting odds in. The chairs have not changed.",
          "With the pack's start it was {before}. And with his?",
        ],
        after: ["{count}. He would hardly bother to turn them over. He may even be right, in old houses."],
      },
      {
        head: "The sceptic",
        text: [
          "Another colleague buys at sales, from anybody. For her {prior} of 1,000 are original before she looks; she has been had too often. Her starting odds, the same two findings.",
          "The optimist stood at {before}.",
        ],
        after: [
          "{count}. Two people, the same chairs, the same findings, and this far apart. Neither has made a mistake in the sum. They disagree about the world these chairs come from.",
          "So far they have mostly heard themselves.",
        ],
      },
      {
        head: "More to see",
        text: [
          "Stay with the sceptic. You lift the coverings, minding the tacks. Every chair has been through as many coverings as the next. The numbers on rails and seat frames are of one cutting, and none comes twice.",
          "She stood at {before}.",
        ],
        after: [
          "{count}. She moves. For her the marriages melt away; what is left against the set is mostly that it might all be of one late making.",
        ],
      },
      {
        head: "Old rails",
        text: [
          "So ask about age. The hidden faces of the rails show hand tools, and they are riddled with the tacks of many coverings.",
          "She stood at {before}.",
        ],
        after: [
          "{count}. The sceptic, who began by doubting nearly every set, now finds it more likely than not that the set is right. Nobody has argued with her. She has looked.",
        ],
      },
      {
        head: "And the optimist?",
        text: ["The same findings, with the optimist's start. The sceptic now stands at {before}."],
        after: [
          "{count}. They are still apart, but not as they were. Evidence multiplies everybody's odds by much the same factor. Out of 1,000 pieces that moves the doubter a long way and the believer a short one, since he has little room left.",
          "There is one thing that would have kept them apart for good: a starting count of nought. Nought times anything is nought. Neither of them wrote one down for any story, and you should not either.",
        ],
      },
      {
        head: "The pack's own",
        text: ["And with the pack's start, all six findings in? The optimist stood at {before}."],
        after: [
          "{count}, between the two. That does not make it the right one. It is one more opinion, which has the merit of being written down.",
        ],
      },
      {
        head: "Everybody at once",
        text: [
          "Slide the start from trusting to gloomy. The optimist stands toward the trusting end. The pack starts a little beyond the gloomy end, and the sceptic further still: sets of six have a bad name. You may stand anywhere.",
          "If the set stays most likely right over all of the slide that sensible people would defend, say so. That is a stronger sentence than any single count.",
        ],
      },
      {
        head: "How to write it down",
        text: [
          "Say where you started, and why. Say where somebody gloomier would end. Then a reader who starts elsewhere can do his own sum.",
          "Starting odds are no shame. Only hidden ones are.",
        ],
      },
    ],
  },

  "no-story-fits": {
    title: "When no story fits",
    teaches: "The counts divide belief among the stories told. Sometimes none of them is true.",
    truth:
      "It was made as a kneehole desk, and in its own day; but its maker had a set of chest drawers standing in the shop for an order that was never paid. He sawed them in two and used them. Nobody had written that story down, so no count could find it.",
    pages: [
      {
        head: "A kneehole desk",
        text: [
          "A mahogany kneehole desk, invented: a long drawer above, a recess for the knees, small drawers to either side. Some were made so. Some were cut from a wide chest of drawers.",
          "Here is the start. It is divided among the stories that somebody has told. Remember that for later.",
        ],
      },
      {
        head: "Fresh dovetails",
        text: [
          "You take out the small drawers, one at a time. At one end of each the dovetails were cut afresh, and there is no gauge line.",
          "{prior} of 1,000 were converted before looking.",
        ],
        after: ["The engine says {count}; you said {guess}. A chest's long drawers, sawn in two, would look like that."],
      },
      {
        head: "Figure that would join",
        text: [
          "You lay a tracing over the fronts. The figure on the left would run on into the right, if a strip as wide as the recess were put back between them.",
          "It was {before}.",
        ],
        after: ["{count}. The case seems made: long drawers, cut through the middle."],
      },
      {
        head: "A recess that was always there",
        text: [
          "Then you look into the kneehole. Its sides are of the case's own old wood, housed in joints as old as the rest.",
          "It was {before}.",
        ],
        after: [
          "{count}. Down sharply. A recess sawn into a chest is not housed in old joints. One of your findings is odd, whichever story you take.",
        ],
      },
      {
        head: "The moulding turns in",
        text: [
          "The base moulding turns into the kneehole in the same old wood, all its mitres alike.",
          "It was {before}.",
        ],
        after: [
          "{count}. Down again. The drawers say cut; the recess says never cut. Such findings are now so rare under every story told here that the engine says outright that none of them fits.",
        ],
      },
      {
        head: "Feet and knees",
        text: [
          "With a helper and a blanket you lay the desk on its back. The inner feet are as old as the outer ones and by the same hand. Inside the recess there is long rub where knees and shoes go.",
          "It was {before}.",
        ],
        after: [
          "{count}, and the case swings right round. But look how it got there: as no story fits, the engine finds it easier to doubt the examiner. By now it takes the whole visit for a poor one about as readily as not.",
        ],
      },
      {
        head: "They have always lived here",
        text: [
          "So you look once more for drawers from elsewhere. But the runners of drawers and case are worn to each other, and each lock's bolt meets one old mortise.",
          "It was {before}.",
        ],
        after: [
          "{count}. The drawers were cut, and have been here as long as the case has. Converted goes down; what goes up is whatever explains least badly, not what explains well.",
        ],
      },
      {
        head: "Try to make it fit",
        text: [
          "Strike out the dovetails and the joining figure: a right desk is left, and all is at peace. Put them back and strike out everything else, and it is a chest that was cut.",
          "Either half makes a good case. It is tempting to call the other half a slip. If you find yourself choosing findings to suit a story, stop.",
        ],
      },
      {
        head: "Say that it does not fit",
        text: [
          "Here is the whole list. Three things can be wrong: the notes, the numbers, or the list of stories. Go through them in that order. Look again on another day; ask whether a guess in the pack is far out; then ask what history would leave just these traces.",
          "Until then the counts are no verdict. They say only how the stories on the list share out what is left, and a bad fit is the engine's way of telling you that it knows no better one. Write that into the report, above the odds.",
        ],
      },
    ],
  },
};
