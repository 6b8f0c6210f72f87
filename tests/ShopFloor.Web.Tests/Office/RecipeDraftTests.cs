using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Office.Recipes;

namespace ShopFloor.Web.Tests.Office;

/// <summary>What is typed stays with its step.</summary>
public sealed class RecipeDraftTests
{
    private readonly RecipeDraft draft = new(ShippedRecipes.All.First(r => r.Finish == Finish.ShowThrough).Steps);

    private IReadOnlyList<RecipeStep> Read => draft.Read().Value;

    [Fact]
    public void Add_AfterWhatIsTyped_KeepsItAtItsStep()
    {
        (draft.Entries["step-3"], draft.Entries["step-5-heat"], draft.Entries["step-8"]) = ("47", "165", "not yet");
        draft.Add(draft.Rows[2].Key, ShippedSteps.For(Finish.ShowThrough).First(s => s.Kind == StepKind.Rest));
        draft.Add(draft.Rows[3].Key, draft.Steps[2]);

        Assert.Equal(("47", "165", "not yet"), (draft.Entries["step-3"], draft.Entries["step-7-heat"], draft.Entries["step-10"]));
        Assert.Equal(Enumerable.Range(1, 13), draft.Steps.Select(s => s.Number));
        Assert.Equal([StepKind.Spray, StepKind.Rest, StepKind.Spray, StepKind.Rest], draft.Steps.Skip(2).Take(4).Select(s => s.Kind));
        Assert.Equal("step-10", Assert.Single(draft.Read().Refusals).Field);
    }

    [Fact]
    public void Move_ThereAndBack_TakesWhatIsTypedAlong()
    {
        draft.Entries["step-2-wait"] = "";
        var wipe = draft.Rows[1].Key;
        draft.Move(wipe, 1);
        Assert.Equal(("Wipe", ""), (RecipeNumbers.Words(draft.Steps[2]), draft.Entries["step-3-wait"]));
        draft.Move(wipe, -1);
        draft.Move(draft.Rows[0].Key, -1);
        draft.Move(draft.Rows[^1].Key, 1);
        Assert.Equal(ShippedRecipes.All[0].Steps.Select((s, i) => i == 1 ? s with { MaxWaitSeconds = null } : s), Read);
    }

    [Fact]
    public void PutBack_AfterTypingElsewhere_StandsWhereItStoodWithAllThatIsTyped()
    {
        draft.Entries["step-4"] = "700";
        draft.TakeOut(draft.Rows[3].Key);
        Assert.Equal((3, StepKind.Rest), (draft.TakenOut!.Value.Place, draft.TakenOut.Value.Step.Kind));
        Assert.Equal(RecipeOrder.Place(4), Assert.Single(draft.Order).Field);

        draft.Entries["step-4-heat"] = "155";
        draft.PutBack();
        Assert.Null(draft.TakenOut);
        Assert.Equal((700, 155m), (Read[3].MinSeconds, Read[4].Celsius));
        Assert.Empty(draft.Order);
    }

    [Fact]
    public void TakeOut_TheOnlyStep_Stays()
    {
        var one = new RecipeDraft([new RecipeStep(1, StepKind.Inspect) { LengthSeconds = 60 }]);
        one.TakeOut(one.Rows[0].Key);
        Assert.Single(one.Steps);
    }

    [Fact]
    public void Measure_BeforeAStepComes_StaysSwitchedOn()
    {
        draft.Measure([.. draft.Steps.Select(s => s with { Gloss = s.Kind == StepKind.Inspect })]);
        draft.Add(draft.Rows[0].Key, ShippedSteps.For(Finish.ShowThrough).First(s => s.Kind == StepKind.Mask));
        Assert.True(Read.Single(s => s.Kind == StepKind.Inspect).Gloss);
    }
}
