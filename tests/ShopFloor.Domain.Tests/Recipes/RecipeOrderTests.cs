using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Tests.Recipes;

/// <summary>What the owner may put where in a recipe.</summary>
public sealed class RecipeOrderTests
{
    [Fact]
    public void Faults_EveryShippedRecipe_None() => Assert.All(ShippedRecipes.All, r => Assert.Empty(RecipeRules.Faults(r.Steps)));

    [Fact]
    public void Faults_SecondClearCoatWithItsFlashOff_None()
    {
        var steps = Steps(Finish.WhiteGround);
        var coat = steps.FindIndex(s => s.Coating == CoatingKind.Clear);
        steps.InsertRange(coat + 2, [Added(StepKind.Spray, CoatingKind.Clear), Added(StepKind.Rest)]);
        Assert.Empty(RecipeRules.Faults(Numbered(steps)));
    }

    [Fact]
    public void Faults_MaskingAndASecondWipe_None()
    {
        var steps = Steps(Finish.ShowThrough);
        steps.InsertRange(1, [Added(StepKind.Mask), Added(StepKind.Wipe)]);
        Assert.Empty(RecipeRules.Faults(Numbered(steps)));
    }

    [Theory]
    [InlineData(Finish.ShowThrough, StepKind.Rest, 4, "wet-coat")]
    [InlineData(Finish.ShowThrough, StepKind.Tape, 7, "press-before-tape")]
    [InlineData(Finish.ShowThrough, StepKind.Press, 7, "tape-without-press")]
    [InlineData(Finish.ShowThrough, StepKind.Inspect, 10, "inspect-missing")]
    [InlineData(Finish.ShowThrough, StepKind.Clean, 0, null)]
    public void Faults_AStepTakenOut_AreSaidAtTheStepConcerned(Finish finish, StepKind kind, int at, string? code)
    {
        var steps = Steps(finish);
        steps.RemoveAt(steps.FindIndex(s => s.Kind == kind));
        var faults = RecipeRules.Faults(Numbered(steps)).Where(f => f.Code == code).ToList();
        if (code is null)
            Assert.Empty(RecipeRules.Faults(Numbered(steps)));
        else
            Assert.Equal(RecipeOrder.Place(at), Assert.Single(faults).Field);
    }

    [Theory]
    [InlineData(4, 3, 5, "wet-coat")]
    [InlineData(9, 1, 1, "rest-at-end")]
    [InlineData(8, 4, 4, "press-before-tape")]
    [InlineData(10, 7, 8, "work-after-inspect")]
    [InlineData(1, 8, 8, "still-hot")]
    public void Faults_AStepMoved_AreSaidAtTheStepConcerned(int from, int to, int at, string code)
    {
        var steps = Steps(Finish.ShowThrough);
        var step = steps[from - 1];
        steps.RemoveAt(from - 1);
        steps.Insert(to - 1, step);
        Assert.Contains(RecipeRules.Faults(Numbered(steps)), f => f.Code == code && f.Field == RecipeOrder.Place(at));
    }

    [Theory]
    [InlineData(150, true)]
    [InlineData(51.5, true)]
    [InlineData(51, false)]
    public void Faults_CoolingThatEndsTooHotForHands_AreSaidAtWhatHandsDoNext(double celsius, bool burns)
    {
        var steps = Steps(Finish.ShowThrough);
        var tape = steps.FindIndex(s => s.Kind == StepKind.Tape);
        steps[tape - 1] = steps[tape - 1] with { CoolToCelsius = (decimal)celsius };
        var faults = RecipeRules.Faults(steps);
        if (burns)
            Assert.Equal((RecipeOrder.HotToTouch, RecipeOrder.Place(tape + 1)), faults.Select(f => (f.Code, f.Field)).Single());
        else
            Assert.Empty(faults);
        // A recipe that was saved before is still worked by.
        Assert.Empty(RecipeRules.FaultsOfWork(steps));
    }

    [Fact]
    public void Faults_PromoterSprayed_IsRefused()
    {
        var steps = Steps(Finish.ShowThrough);
        var coat = steps.FindIndex(s => s.Kind == StepKind.Spray);
        steps[coat] = steps[coat] with { Coating = CoatingKind.Promoter };
        Assert.Equal(("step-coating", "step-3"), RecipeRules.Faults(steps).Select(f => (f.Code, f.Field)).Single());
    }

    [Theory]
    [InlineData(Finish.ShowThrough, "print above")]
    [InlineData(Finish.BehindGlass, "print below, picture up")]
    public void ShippedSteps_OfAFinish_EveryKindIsSoundAndLiesInThePressAsTheFinishAsks(Finish finish, string layUp)
    {
        var all = ShippedSteps.For(finish);
        Assert.Equal(Enum.GetValues<StepKind>().Order(), all.Select(s => s.Kind).Distinct().Order());
        var own = all.Select((s, i) => s with { Number = i + 1 }).ToList();
        Assert.DoesNotContain(RecipeRules.Faults(own), f => !f.Field!.EndsWith("-place", StringComparison.Ordinal));
        Assert.Equal(layUp, all.Single(s => s.Kind == StepKind.Press).LayUp);
    }

    [Theory]
    [InlineData(null, "", null)]
    [InlineData("cold", "Wipe after peeling.", null)]
    [InlineData("warm", "", "step-peel")]
    [InlineData("cold", "Peel hot, wipe.", "step-peel-note")]
    [InlineData("hot", "Peel cold.", "step-peel-note")]
    [InlineData(null, "Peel cold.", null)]
    public void Faults_OfWhenThePaperComesOff_AreThatItIsNeitherOrThatTheWordsSayOtherwise(string? peel, string note, string? code)
    {
        var steps = Steps(Finish.ShowThrough);
        var press = steps.FindIndex(s => s.Kind == StepKind.Press);
        steps[press] = steps[press] with { Peel = peel, Note = note };
        Assert.Equal(code is null ? [] : [code], RecipeRules.Faults(steps).Select(f => f.Code));
    }

    /// <summary>Steps of a time when nothing but their words said it are shown as these say.</summary>
    [Theory]
    [InlineData(null, "Press, then peel cold.", "cold")]
    [InlineData(null, "Peel hot, wipe.", "hot")]
    [InlineData(null, "", "hot")]
    [InlineData("hot", "Peel cold.", "hot")]
    [InlineData("cold", "", "cold")]
    public void PeelOf_AStepThatNamesNone_IsAsItsWordsSay(string? peel, string note, string said) =>
        Assert.Equal(said, RecipeRules.PeelOf(new RecipeStep(1, StepKind.Press) { Peel = peel, Note = note }));

    private static List<RecipeStep> Steps(Finish finish) => [.. ShippedRecipes.All.First(r => r.Finish == finish).Steps];

    private static RecipeStep Added(StepKind kind, CoatingKind? coating = null) =>
        ShippedSteps.For(Finish.ShowThrough).First(s => s.Kind == kind && (coating is null || s.Coating == coating));

    private static List<RecipeStep> Numbered(IEnumerable<RecipeStep> steps) => [.. steps.Select((s, i) => s with { Number = i + 1 })];
}
