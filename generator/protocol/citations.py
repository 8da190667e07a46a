"""The published sources that figures and rules rest on, each under its number.

Takes  nothing: this is a table.
Gives  `CITATIONS` by number; `citation` for one of them; `unknown_numbers` for those that are not in the table.
Knows  how much of each source was read, so that nothing is trusted further than that.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

Seen = Literal["passage", "abstract", "title", "secondary", "memory"]

PASSAGE: Seen = "passage"
ABSTRACT: Seen = "abstract"
TITLE: Seen = "title"
SECONDARY: Seen = "secondary"
MEMORY: Seen = "memory"


@dataclass(frozen=True, slots=True)
class Citation:
    """One source. `text` is its line in a list of references; `seen` what of it was read before it was leaned on."""

    number: int
    text: str
    seen: Seen

    @property
    def short(self) -> str:
        """The first author, or the first words of the title, for a message: `Gleason H`."""
        return self.text.split(". ")[0].split(",")[0]


_TABLE: tuple[tuple[int, Seen, str], ...] = (
    (1, PASSAGE, "Thomas S. The use of the Laplace equation in the calculation of sub-bandage pressure. World Wide Wounds 2003; also EWMA J 2003;3(1):21–23."),
    (2, PASSAGE, "Thomas S. Compression bandaging in the treatment of venous leg ulcers. World Wide Wounds 1997, ed. 1.1."),
    (3, PASSAGE, "Gleason H. Application of a modified Robert Jones bandage in dogs and cats. Clinician's Brief, January 2023."),
    (4, PASSAGE, "Splint bandage in dogs and cats (how-to). Clinician's Brief, author and date not shown."),
    (5, PASSAGE, "Simpson AM, Radlinsky M, Beale BS. Bandaging in dogs and cats: external coaptation. Compend Contin Educ Pract Vet 2001;23(2):157–164."),
    (6, PASSAGE, "Slings, casts, and other forms of immobilization. In: Côté's Clinical Veterinary Advisor: Dogs and Cats, 4th ed., p. 1161."),
    (7, PASSAGE, "Palmer R. Long bone fractures: splints and casts. WSAVA Congress Proceedings 2018."),
    (8, TITLE, "Palmer R, Goh CSS. Definitive treatment of limb fractures with splints or casts. Today's Veterinary Practice, about 2021."),
    (9, PASSAGE, "VetAgro Sup, Lyon. Thesis site on orthopaedic bandages: modified Robert Jones, Velpeau, Ehmer and carpal flexion pages. Year not shown. In French."),
    (10, PASSAGE, "Moliner O. Réalisation d'un bandage Robert-Jones. Pratique Vétérinaire Equine 2011;(169)."),
    (11, PASSAGE, "Etchépareborde S. Le pansement de Robert Jones. PratiqueVet 2013;48:470–472."),
    (12, ABSTRACT, "Anderson DM, White RAS. Ischemic bandage injuries: a case series and review of the literature. Vet Surg 2000;29(6):488–498."),
    (13, PASSAGE, "Zeltzman P. How to avoid bandage complications. Veterinary Practice News."),
    (14, PASSAGE, "Anderson D. Management of bandage and cast soft tissue injuries. ECVS Annual Scientific Meeting, 2014."),
    (15, PASSAGE, "Ferrigno C, Kapatkin A (ed.). Nonsurgical fracture management, tibial shaft 42-A1, dog. AO Surgery Reference."),
    (16, ABSTRACT, "Meeson RL, Davidson C, Arthurs GI. Soft-tissue injuries associated with cast application for distal limb orthopaedic conditions. Vet Comp Orthop Traumatol 2011;24:126–131."),
    (17, ABSTRACT, "Clayton D, Costello S, Olive M, et al. Incidence of bandage-associated complications in cats following clean orthopaedic procedures: 152 cases. Vet Comp Orthop Traumatol 2025, doi 10.1055/a-2655-9218."),
    (18, ABSTRACT, "Caudoventral hip luxation in 160 dogs (2003–2023). Vet Surg 2024;53(4):586–595. doi 10.1111/vsu.14093."),
    (19, TITLE, "Schlag AN, Hayes GM, Taylor AQ, et al. Outcomes of craniodorsal hip luxation with closed reduction and Ehmer sling in dogs. JAVMA 2019;254(12):1436."),
    (20, PASSAGE, "Roush JK, Renberg WC. The Ehmer sling in canine orthopedic surgery. Clinician's Brief, August 2015:29–32."),
    (21, PASSAGE, "Canine Sports Medicine and Rehabilitation, p. 368 (hip luxation)."),
    (22, PASSAGE, "Allard F. Réalisation d'une écharpe de Velpeau chez le chien. Le Point Vétérinaire 2007;(281)."),
    (23, ABSTRACT, "Kornmayer M, Failing K, Matis U. Long-term prognosis of metacarpal and metatarsal fractures in dogs. Vet Comp Orthop Traumatol 2014;27:45–53."),
    (24, ABSTRACT, "Open or closed stabilization of metacarpal and metatarsal fractures in dogs and cats. BMC Vet Res 2022, s12917-022-03404-3."),
    (25, ABSTRACT, "Vitt MA, Wingert DC, Conzemius MG. Sub-bandage pressure in the canine forelimb after rigid splint application. VCOT Open 2019;2(2):e30–e34."),
    (26, ABSTRACT, "Thibodaux B, Eginton K, Gordon-Evans W. Sub-bandage pressure changes in canine hindlimbs after re-application of custom splints. BMC Vet Res 2024, s12917-024-04437-6."),
    (27, ABSTRACT, "Stark SJ, Meester YL, Evans R, Gordon-Evans W. Exposed digits increase weight bearing and alter sub-bandage pressures. JAVMA 2025, javma.24.10.0684."),
    (28, ABSTRACT, "Canada NC, Beard WL, Guyan ME, White BJ. Measurement of distal limb sub-bandage pressure over 96 hours in horses. Equine Vet J 2017, evj.12601; effect of bandaging techniques, Vet Surg 2018;47(5):640–647; three abdominal techniques, Equine Vet J 2015;47:599–602."),
    (29, ABSTRACT, "Janicek JC, McClure SR, Lescun TB, et al. Risk factors associated with cast complications in horses: 398 cases. JAVMA 2013;242(1):93."),
    (30, PASSAGE, "Campbell BG. Moist wound healing: the new standard of care. Today's Veterinary Practice Jul/Aug 2015:32–41."),
    (31, PASSAGE, "K9 Combat Casualty Care Committee. Clinical practice guideline 14: wound management, two editions."),
    (32, PASSAGE, "K9 Combat Casualty Care Committee. Clinical practice guideline on fractures, part on open fractures."),
    (33, PASSAGE, "K9 Combat Casualty Care Committee. Clinical practice guideline on haemorrhage control."),
    (34, PASSAGE, "Winkler KP. Wound bandages and dressings for small animals. Merck/MSD Veterinary Manual, rev. July 2023."),
    (35, PASSAGE, "Tobias KM, Tobias J. Wound management: tie-over bandages. Clinician's Brief, August 2012."),
    (36, PASSAGE, "Chandler JC. Tie-over bandage. ACVS column, DVM Newsmagazine, June 2009."),
    (37, PASSAGE, "Birchard SJ. Author's notes on tie-over and sugar dressings, 2014; after Knapp DW in Saunders Manual of Small Animal Practice 2006:549."),
    (38, PASSAGE, "Sweetening wound care: honey and sugar bandages. dvm360, author not shown."),
    (39, ABSTRACT, "Bohling MW, Henderson RA, Swaim SF, et al. Cutaneous wound healing in the cat. Vet Surg 2004;33(6):579–587; review Vet Clin N Am Small Anim 2006;36:687–692."),
    (40, PASSAGE, "American College of Veterinary Surgeons. Fractured limbs: owner page, part on bandage care."),
    (41, ABSTRACT, "Rexing J, Dunning D, Siegel AM, et al. Cold compression, bandaging and microcurrent after cruciate repair. Vet Surg 2010 (year from memory)."),
    (42, ABSTRACT, "Petazzoni M, Mortellaro CM, Esposito A, et al. Carpal flexural contracture in puppies. JAVMA 2022;260(3), javma.20.10.0556."),
    (43, ABSTRACT, "Loss of interface pressure in various compression bandage systems over seven days. Dermatology 2014;229:343–352."),
    (44, ABSTRACT, "Compression skills of practitioners: 1,476 participants. Int Wound J, PMC7949604."),
    (45, ABSTRACT, "Verzwyvelt ZJ, et al. Two-layer compression with pressure monitoring. J Wound Management 2023;24(3):87–94."),
    (46, ABSTRACT, "Garrigues-Ramón M, Julián M, Zaragoza C, Barrios C. Inability of Laplace's law to estimate sub-bandage pressures. J Wound Care 2021;30(4):276–282."),
    (47, ABSTRACT, "Al Khaburi J, Nelson EA, Hutchinson J, Dehghani-Sanij AA. Impact of multilayered compression bandages: a model. Phlebology 2011;26:75–83 (journal from memory)."),
    (48, ABSTRACT, "Pressure applied on the lower leg by elastic bandage. Ann Biomed Eng 2015, 10.1007/s10439-015-1352-1."),
    (49, ABSTRACT, "Lee AJ, Dale JJ, Ruckley CV, et al. Eur J Vasc Endovasc Surg 2006;31:542–552."),
    (50, ABSTRACT, "Sikka MP, Ghosh S, Mukhopadhyay A. Geometry of the bandaging procedure. J Biomed Sci Eng 2013;6:1186–1190."),
    (51, ABSTRACT, "Textile Research J 2019, 10.1177/0040517519833969."),
    (52, ABSTRACT, "Gefen A. How much time does it take to get a pressure ulcer? 2008 (year from memory)."),
    (53, ABSTRACT, "Caraty J, et al. Supports for pressure sore prevention. J Small Anim Pract 2019;60(10):623–630."),
    (54, SECONDARY, "Landis EM. 1930, as told in a nursing review."),
    (55, ABSTRACT, "Effects of local pressure on cutaneous blood flow in pigs. SciELO S0100-69912017000500498, 2017."),
    (56, MEMORY, "Kosiak M. Arch Phys Med Rehabil 1959;40:62–69."),
    (57, SECONDARY, "BS 7505 classes of bandages, as told by the Surgical Materials Testing Laboratory."),
    (58, ABSTRACT, "Partsch H, Clark M, Mosti G, et al. Classification of compression bandages. Dermatol Surg 2008;34:600–609."),
    (59, PASSAGE, "NHS Drug Tariff, Part III(b): bandages."),
    (60, PASSAGE, "NHS formulary, chapter on compression bandages."),
    (61, PASSAGE, "Foster R, Smith M. First Aid and Emergency Care for Dogs and Cats, chapter on bandaging (authors from memory)."),
    (62, PASSAGE, "Hazewinkel HAW. Bandages and splints. WSAVA congress proceedings."),
    (63, PASSAGE, "A practitioner's guide to fracture management. Today's Veterinary Practice Sep/Oct 2015:25."),
    (64, PASSAGE, "Technical aspects of fluid therapy. In: Fluid, Electrolyte, and Acid-Base Disorders in Small Animal Practice, pp. 364, 373."),
    (65, TITLE, "Kulendra E, Arthurs G. Management and treatment of feline tarsal injuries. In Practice, doi 10.1136/inp.g1434."),
    (66, ABSTRACT, "Quadriceps contracture in ten dogs and two cats. Kafkas Univ Vet Fak Derg 2011;17(3):401–408; also Wilkens BE, McDonald DE, Hulse DA. Vet Comp Orthop Traumatol 1993;6:219–223."),
    (67, ABSTRACT, "Calder C. Gold-standard bandaging. Vet Nurs J 2014;29(6):198–202."),
    (68, TITLE, "Swaim SF, Renberg WC, Shike KM. Small Animal Bandaging, Casting, and Splinting Techniques. Wiley 2011."),
    (69, MEMORY, "Brinker, Piermattei and Flo's Handbook of Small Animal Orthopedics and Fracture Repair, 4th ed. 2006."),
    (70, MEMORY, "Fossum TW. Small Animal Surgery, chapter on bandages."),
    (71, ABSTRACT, "Raj TB. How long do compression bandages maintain their pressure during ambulatory treatment of varicose veins? Br J Surg 1980 (author and year from memory)."),
    (72, PASSAGE, "Rhodes KH, Werner AH. Small Animal Dermatology, 3rd ed. 2018, pp. 409–410."),
    (73, PASSAGE, "Wound healing, ch. 17 of a feline medicine and surgery text."),
    (74, PASSAGE, "Theys S. Bandes ou bas? Eurokine. In French."),
    (75, PASSAGE, "Avoid common bandaging mistakes in dogs and cats. Veterinary Medicine, CVC 2008 highlights."),
    (76, PASSAGE, "Splint application (spica). Veterinary trade magazine, step 1."),
    (77, ABSTRACT, "Oakley RE. External coaptation. Vet Clin N Am Small Anim 1999;29."),
    (78, PASSAGE, "Wound healing phases. WSAVA Congress 2018 proceedings, p. 572."),
    (79, ABSTRACT, "Bandage slippage in 48 volunteers. WOCN 2010 meeting abstract 5038."),
    (80, PASSAGE, "Canine tourniquet and haemorrhage chapter, StatPearls."),
    (81, PASSAGE, "McCagherty J, Woods S. Wound management part one: topical treatments. Article for continuing education."),
    (82, PASSAGE, "Bandaging techniques, ch. 4 of a clinical procedures textbook; with a review of bandage complications in equines."),
    (83, PASSAGE, "Bandages (course notes, community college VET 121)."),
    (84, PASSAGE, "Mickelson MA, Mans C, Colopy SA. Principles of wound management. In: Wound Care in Exotic Pets."),
    (85, PASSAGE, "Public article on cohesive bandages."),
    (86, PASSAGE, "Modified Robert Jones, skill 56 (nursing skills page)."),
    (87, PASSAGE, "Hydrogels, in: wound dressing, equine chapter (two trials cited)."),
    (88, PASSAGE, "Dog Owner's Home Veterinary Handbook, p. 47: draining wounds."),
    (89, PASSAGE, "University first aid page on bleeding."),
    (90, ABSTRACT, "Calcaneoquartal arthrodesis, 74 procedures. VCOT 2013, 10.3415/VCOT-12-07-0089."),
    (91, SECONDARY, "Pressure-ulcer thresholds, a summary."),
    (92, ABSTRACT, "Inter- and intratester reliability of limb circumference in Labradors. Vet Surg 2013, j.1532-950X.2013.01102."),
    (93, ABSTRACT, "Fox EA, Oliver KE, Brunke MW. Pelvic to thoracic limb girth. Veterinary Evidence 2023;8(4), 667."),
)  # fmt: skip

CITATIONS: MappingProxyType[int, Citation] = MappingProxyType({n: Citation(n, text, seen) for n, seen, text in _TABLE})


def citation(number: int) -> Citation:
    """The source under a number.

    Raises:
        KeyError: the number is not in the table.
    """
    return CITATIONS[number]


def unknown_numbers(numbers: Iterable[int]) -> tuple[int, ...]:
    """Those of the numbers that no citation stands under, in order."""
    return tuple(n for n in numbers if n not in CITATIONS)
