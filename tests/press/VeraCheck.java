// Judge PDF files by PDF/UA-1 with the veraPDF engine (MPL-2.0), read from a jar on the class path.
// Usage: java -cp JARS VeraCheck.java FILE...   Prints one line a file, then one line a broken rule.
import java.io.File;
import java.util.TreeMap;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.PDFAParser;
import org.verapdf.pdfa.PDFAValidator;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import org.verapdf.pdfa.results.TestAssertion;
import org.verapdf.pdfa.results.ValidationResult;

public class VeraCheck {
    public static void main(String[] files) throws Exception {
        VeraGreenfieldFoundryProvider.initialise();
        PDFAFlavour standard = PDFAFlavour.byFlavourId("ua1");
        for (String name : files) {
            try (PDFAParser parser = Foundries.defaultInstance().createParser(new File(name), standard);
                    PDFAValidator judge = Foundries.defaultInstance().createValidator(standard, false)) {
                ValidationResult result = judge.validate(parser);
                System.out.println((result.isCompliant() ? "COMPLIANT " : "BROKEN ") + name);
                TreeMap<String, String> rules = new TreeMap<>();
                for (TestAssertion held : result.getTestAssertions()) {
                    if (held.getStatus() == TestAssertion.Status.FAILED) {
                        rules.putIfAbsent(
                                held.getRuleId().getClause() + "-" + held.getRuleId().getTestNumber(), held.getMessage());
                    }
                }
                rules.forEach((rule, message) -> System.out.println("RULE " + rule + " " + message));
            }
        }
    }
}
