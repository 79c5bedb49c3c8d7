package spelling

import (
	"strings"
	"sync"
)

// The words of the trade for the three lifts and their usual variants in
// English, German, Spanish, Portuguese, French, Italian, Dutch, Norwegian,
// Swedish, Danish, Finnish, Icelandic, Polish and Russian, and the short forms of training
// logs. Common practice, no source. Accents are dropped on both sides, and a
// phrase of several words is looked for before each word alone, so what a lift
// is called when it is another exercise ("press militar", "тяга в наклоне") is
// not found: the rest of the phrase is unknown. Left out are short forms that
// are as often a person (Mark, MC): a season file can declare them.

// liftLists holds the phrases for each of the three lifts.
var liftLists = map[string]string{
	"squat": `squat|squats|sq|back squat|back squats|backsquat|barbell squat|barbell back squat
		|kniebeuge|kniebeugen|kb|nackenkniebeuge|langhantelkniebeuge
		|sentadilla|sentadillas|sentadilla trasera|sentadilla con barra
		|agachamento|agachamentos|agachamento livre|agachamento com barra
		|flexion de jambes|flexion de jambe|flexions de jambes|accosciata|accosciate
		|kniebuiging|kniebuigingen|knebøy|knebøyning|knebøjning|knæbøjning|knæbøjninger|knäböj|knäböjning|böj
		|jalkakyykky|kyykky|takakyykky|hnébeygja|hnébeygjur
		|przysiad|przysiady|przysiad ze sztangą|przysiady ze sztangą
		|присед|приседы|приседание|приседания|приседания со штангой|приседание со штангой`,
	"bench press": `bench press|bench|benchpress|bench presses|bp|barbell bench|barbell bench press|flat bench|flat bench press
		|bankdrücken|bankdruecken|bankdruck|flachbank|flachbankdrücken|flachbankdruecken|bd|bankpresse
		|press banca|press de banca|press banca plano|press de banca plano|banca|banca plano
		|supino|supino reto|supino com barra
		|développé couché|dévelopé couché|couché|dc
		|distensione su panca|distensioni su panca|distensioni su panca piana|panca|panca piana
		|bankdrukken|benkpress|benk|bänkpress|bänk|bänkar|bænkpres|bænk|penkkipunnerrus|penkki|bekkpressa
		|wyciskanie|wyciskanie leżąc|wyciskanie sztangi leżąc|wyciskanie na ławce|wyciskanie na ławce płaskiej
		|жим|жим лёжа|жим штанги лёжа|жим штанги`,
	"deadlift": `deadlift|deadlifts|dead lift|dead lifts|dl|dls|barbell deadlift
		|kreuzheben|kh|langhantelkreuzheben|peso muerto|peso muerto con barra|levantamento terra|terra|peso morto
		|soulevé de terre|sdt|stacco|stacchi|stacco da terra|stacchi da terra
		|markløft|marklyft|dødløft|dødlyft|maastaveto|maaveto|mave|réttstöðulyfta
		|martwy ciąg|martwe ciągi|ciąg|тяга|становая тяга|становая|тяга становая`,
}

// variantLists holds the phrases for each variant; those of "" name none.
var variantLists = map[string]string{
	"sumo":         `sumo|sumo stance|breiter stand|сумо|sumosta`,
	"conventional": `conventional|conv|konventionell|klassisch|convencional|conventionnel|classique|convenzionale|classico|conventioneel|konvensjonell|konventionel|klasyczny|klasycznie|классика|классическая|классический`,
	"paused": `paused|pause|pauses|pausiert|pausierte|pausiertes|mit pause|con pausa|pausado|pausada|com pausa|avec pause|en pause|con fermo|fermo|met pauze|gepauzeerd
		|med pause|med paus|paus|pysäytetty|pysäytys|pysäytyksellä|z pauzą|pauza|с паузой|пауза`,
	"high bar":     `high bar|highbar|hb|barra alta|barre haute|bilanciere alto|hohe ablage|высокий гриф`,
	"low bar":      `low bar|lowbar|lb|barra baja|barra baixa|barre basse|bilanciere basso|tiefe ablage|низкий гриф`,
	"touch and go": `touch and go|touch n go|touch & go|tng|t&g|touch go`,
	"close grip":   `close grip|cg|narrow grip|enger griff|eng|enges|agarre cerrado|pegada fechada|prise serrée|presa stretta|smalle grip|smalt grep|smalt grepp|smal|kapea ote|wąski chwyt|wąsko|узким хватом|узкий хват`,
	"wide grip":    `wide grip|wg|weiter griff|breiter griff|agarre ancho|pegada aberta|prise large|presa larga|brede grip|bredt grep|brett grepp|leveä ote|szeroki chwyt|широким хватом|широкий хват`,
	"snatch grip":  `snatch grip|reißgriff|рывковым хватом`,
	"deficit":      `deficit|defizit|déficit|déficitaire|с подставки|из ямы`,
	"block":        `block|blocks|from blocks|off blocks|block pull|vom block|med klossar|с плинтов`,
	"box":          `box|auf die box|на ящик`,
	"pin":          `pin|pins|to pins|from pins|off pins`,
	"feet up":      `feet up|legs up|larsen|larsen press`,
	"spoto":        `spoto`,
	"tempo":        `tempo|темповый|темповая`,
	"beltless":     `beltless|no belt|without belt|ohne gürtel|ohne guertel|sin cinturón|sem cinto|sans ceinture|senza cintura|zonder riem|uten belte|utan bälte|uden bælte|bez pasa|без пояса`,
	"chains":       `chains|chain|with chains|ketten|mit ketten|cadenas|con cadenas|с цепями`,
	"bands":        `bands|banded|with bands|mit bändern|con bandas|с резиной`,
	"": `competition|comp|contest|wettkampf|competición|competencia|competição|compétition|gara|wedstrijd|stevne|tävling|stævne|kisa|zawody|соревновательный|соревновательная
		|regular|standard|normal|raw|barbell|with|w|the|and|style|stance|grip|main|primary|secondary|heavy|light|medium|volume|top|single|singles|top set|top sets|back off|backoff|backoffs|back offs
		|warm up|warmup|warm ups|warmups|set|sets|&|lh|langhantel`,
}

var (
	liftWords    = phrases(liftLists)    // phrase → lift
	variantWords = phrases(variantLists) // phrase → variant
)

// phrases turns lists of phrases into a table by phrase, folded as texts are,
// once it is asked for.
func phrases(lists map[string]string) func() map[string]string {
	return sync.OnceValue(func() map[string]string {
		m := make(map[string]string)
		for meaning, list := range lists {
			for p := range strings.SplitSeq(list, "|") {
				if p = Unmarked(Fold(p)); p != "" {
					m[p] = meaning
				}
			}
		}
		return m
	})
}
