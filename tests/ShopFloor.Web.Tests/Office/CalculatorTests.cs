using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Office.Calculators;

namespace ShopFloor.Web.Tests.Office;

public sealed class CalculatorTests
{
    private static readonly CalculatorStart Start = new(ShippedMaterials.All, new OvenSettings(), 20);

    public static TheoryData<string> Keys => [.. CalculatorList.For(Start).Select(c => c.Key)];

    public static TheoryData<string, string> Fields
    {
        get
        {
            var fields = new TheoryData<string, string>();
            foreach (var calculator in CalculatorList.For(Start))
            foreach (var number in calculator.Numbers)
                fields.Add(calculator.Key, number.Name);
            return fields;
        }
    }

    [Fact]
    public void For_AllCalculators_HaveKeysOfTheirOwn()
    {
        var keys = CalculatorList.For(Start).Select(c => c.Key).ToArray();
        Assert.Equal(keys.Length, keys.Distinct(StringComparer.Ordinal).Count());
        Assert.All(CalculatorList.For(Start), c => Assert.Equal(c.Numbers.Count, c.Numbers.Select(n => n.Name).Distinct().Count()));
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public void Work_StartValues_GiveAnAnswerWithItsExplanation(string key)
    {
        var answer = Form(key).Work();
        Assert.True(answer.IsOk, string.Join("; ", answer.Refusals.Select(r => r.Text)));
        Assert.NotEmpty(answer.Value.Why.Answer);
        Assert.NotEmpty(answer.Value.Why.Inputs);
        Assert.NotEmpty(answer.Value.Why.Formula);
        Assert.NotEmpty(answer.Value.Why.Source);
    }

    [Theory]
    [MemberData(nameof(Fields))]
    public void Work_ImpossibleNumber_IsRefusedAtItsField(string key, string field)
    {
        var form = Form(key);
        form.Numbers[field] = "-100000000000";
        var answer = form.Work();
        Assert.False(answer.IsOk);
        Assert.Contains(answer.Refusals, r => r.Field == field);
    }

    [Theory]
    [MemberData(nameof(Fields))]
    public void Work_NoNumber_IsRefusedAtItsFieldAndKept(string key, string field)
    {
        var form = Form(key);
        form.Numbers[field] = "about ten";
        Assert.Contains(form.Work().Refusals, r => r.Field == field);
        Assert.Equal("about ten", form.Numbers[field]);
    }

    [Fact]
    public void Work_HalfACoat_IsRefusedAsNoWholeNumber()
    {
        var form = Form("piece");
        form.Numbers["coats"] = "1.5";
        Assert.Equal(("not-whole", "coats"), (form.Work().Refusals[0].Code, form.Work().Refusals[0].Field));
    }

    [Fact]
    public void Work_HiddenSolder_IsRefusedByTheSuitabilityCalculator()
    {
        var form = Form("suitability");
        form.Chosen["material"] = "brass";
        form.Chosen[nameof(HiddenPart.SolderedJoint)] = nameof(Answer.Yes);
        Assert.StartsWith("We cannot take this piece", form.Work().Value.Why.Answer, StringComparison.Ordinal);
    }

    private static CalculatorForm Form(string key) => new(CalculatorList.For(Start).Single(c => c.Key == key), Start);
}
